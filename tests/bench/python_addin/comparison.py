# SPDX-License-Identifier: Apache-2.0
"""ENGINE.POWER as an add-in in Python: what the same job costs that way. For the benchmark only."""

import math

import unohelper
from com.sun.star.lang import XServiceInfo
from comparison import XComparison

SERVICE = "comparison.Comparison"


class Comparison(unohelper.Base, XComparison, XServiceInfo):
    def __init__(self, context):
        self.context = context

    def enginePower(self, torque, speed):
        return torque * speed * 2.0 * math.pi / 60.0 / 1000.0

    def getImplementationName(self):
        return SERVICE + "Implementation"

    def supportsService(self, name):
        return name == SERVICE

    def getSupportedServiceNames(self):
        return (SERVICE,)


g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(Comparison, SERVICE + "Implementation", (SERVICE,))
