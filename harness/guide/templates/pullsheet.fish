# fish completion for pullsheet {{ catalogue.version }}, written from its catalogue of functions.
# SPDX-License-Identifier: Apache-2.0
complete -c pullsheet -f
{% for command in catalogue.command.commands %}
complete -c pullsheet -n __fish_use_subcommand -a {{ command.name }} -d {{ command.text|sh }}
{% for option in command.options %}
{% for name in option.names if name.startswith("--") %}
complete -c pullsheet -n '__fish_seen_subcommand_from {{ command.name }}' -l {{ name[2:] }}{{ " -r" if option.takes_value }} -d {{ option.text|sh }}
{% endfor %}
{% endfor %}
{% endfor %}
{% for family in catalogue.families %}
complete -c pullsheet -n '__fish_seen_subcommand_from list verify' -a {{ family.name }} -d {{ family.text|sh }}
{% endfor %}
{% for function in catalogue.functions %}
complete -c pullsheet -n '__fish_seen_subcommand_from show eval batch verify' -a {{ function.name }} -d {{ function.summary|sh }}
{% endfor %}
complete -c pullsheet -n '__fish_seen_subcommand_from batch' -F
