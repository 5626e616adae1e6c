# SPDX-License-Identifier: Apache-2.0
"""What the tests of the menu's commands share."""

import uno

from calc import CalcTestCase
from office import property_value

SUCCESS = 1


class MenuTestCase(CalcTestCase):
    def give(self, command, document=None, **arguments):
        """Gives a command of the menu without its dialogue; the answer and whether it was done."""
        values = []
        for name, value in dict(arguments, Silent=True).items():
            if isinstance(value, (list, tuple)):
                value = uno.Any("[]string", tuple(value))
            values.append(property_value(name, value))
        frame = (document or self.document).CurrentController.Frame
        helper = self.office.create("com.sun.star.frame.DispatchHelper")
        event = helper.executeDispatch(frame, "vnd.pullsheet:" + command, "", 0, tuple(values))
        self.assertTrue(self.office.is_alive)
        return event.Result, event.State == SUCCESS

    def done(self, command, document=None, **arguments):
        result, is_done = self.give(command, document, **arguments)
        self.assertTrue(is_done, result)
        return result

    def refused(self, command, document=None, **arguments):
        result, is_done = self.give(command, document, **arguments)
        self.assertFalse(is_done, result)
        return result

    def select(self, address):
        self.document.CurrentController.select(self.cell(address))
