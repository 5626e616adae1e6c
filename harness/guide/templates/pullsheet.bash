# bash completion for pullsheet {{ catalogue.version }}, written from its catalogue of functions.
# SPDX-License-Identifier: Apache-2.0

_pullsheet_functions='{% for function in catalogue.functions %}{{ function.name }}
{% endfor %}'
_pullsheet_families='{% for family in catalogue.families %}{{ family.name }}
{% endfor %}'

# What may stand at a position of a call, a line each.
_pullsheet_choices() {
    case $1:$2 in
{% for function in catalogue.functions %}
{% for position, words in completed_positions(function) %}
        {{ function.name }}:{{ position }}) printf '%s\n' {% for word in words %}{{ word|sh }} {% endfor %};;
{% endfor %}
{% endfor %}
        UNIT.CONVERT:[23]) printf '%s\n' {% for quantity, units in catalogue.units() %}{% for unit in units %}{{ unit|sh }} {% endfor %}{% endfor %};;
        FUNCTION.*:1) printf '%s' "$_pullsheet_functions" ;;
    esac
}

# The units in which the result of a function can be asked for.
_pullsheet_units() {
    case $1 in
{% for function in catalogue.functions if function.parameters and function.parameters[-1].kind == "unit" %}
        {{ function.name }}) _pullsheet_choices "$1" {{ function.parameters|length }} ;;
{% endfor %}
    esac
}

# The parameters of a function, which are the columns of a file.
_pullsheet_parameters() {
    case $1 in
{% for function in catalogue.functions if function.parameters %}
        {{ function.name }}) printf '%s=\n' {% for parameter in function.parameters %}{{ parameter.name }} {% endfor %};;
{% endfor %}
    esac
}

_pullsheet_options() {
    case $1 in
{% for command in catalogue.command.commands %}
        {{ command.name }}) printf '%s\n' {% for option in command.options %}{% for name in option.names %}{{ name }} {% endfor %}{% endfor %};;
{% endfor %}
        *) printf '%s\n' {% for command in catalogue.command.commands %}{{ command.name }} {% endfor %}{% for option in catalogue.command.options %}{% for name in option.names %}{{ name }} {% endfor %}{% endfor %};;
    esac
}

# Options that are followed by a value.
_pullsheet_takes_value() {
    case $1:$2 in
{% for command in catalogue.command.commands %}
{% for option in command.options if option.takes_value %}
{% for name in option.names %}
        {{ command.name }}:{{ name }}) return 0 ;;
{% endfor %}
{% endfor %}
{% endfor %}
    esac
    return 1
}

# Offers those of the lines on standard input that begin with $1, quoted as the shell needs them.
_pullsheet_offer() {
    local line
    while IFS= read -r line; do
        [[ -n $line && $line == "$1"* ]] && COMPREPLY+=("$(printf '%q' "$line")")
    done
}

_pullsheet_files() {
    local line
    compopt -o filenames 2>/dev/null
    while IFS= read -r line; do COMPREPLY+=("$2$line"); done < <(compgen -f -- "$1")
}

_pullsheet() {
    local current=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]}
    local command='' function='' position=0 index word
    COMPREPLY=()
    # An opening quote is part of the word here; the words on offer are compared without it.
    local plain=${current#[\"\']}
    for ((index = 1; index < COMP_CWORD; index++)); do
        word=${COMP_WORDS[index]}
        if [[ -z $command ]]; then
            [[ $word != -* ]] && command=$word
        elif [[ $word == --* ]]; then
            _pullsheet_takes_value "$command" "$word" && ((index++))
        elif [[ -z $function ]]; then
            function=${word^^}
        else
            ((position++))
        fi
    done
    if [[ -z $command ]]; then
        _pullsheet_offer "$plain" < <(_pullsheet_options '')
        return
    fi
    if [[ $previous == --unit ]]; then
        _pullsheet_offer "$plain" < <(_pullsheet_units "$function")
        return
    fi
    if [[ $previous == --set ]]; then
        compopt -o nospace 2>/dev/null
        _pullsheet_offer "$plain" < <(_pullsheet_parameters "$function")
        return
    fi
    _pullsheet_takes_value "$command" "$previous" && return
    if [[ $current == --* || ($current == - && $command != eval) ]]; then
        _pullsheet_offer "$plain" < <(_pullsheet_options "$command")
        return
    fi
    case $command in
        list) [[ -z $function ]] && _pullsheet_offer "${plain^^}" <<<"$_pullsheet_families" ;;
        verify) [[ -z $function ]] && _pullsheet_offer "${plain^^}" <<<"$_pullsheet_families$_pullsheet_functions" ;;
        show) [[ -z $function ]] && _pullsheet_offer "${plain^^}" <<<"$_pullsheet_functions" ;;
        eval | batch)
            if [[ -z $function ]]; then
                _pullsheet_offer "${plain^^}" <<<"$_pullsheet_functions"
            elif [[ $command == batch ]]; then
                _pullsheet_files "$current" ''
            elif [[ $current == @* ]]; then
                _pullsheet_files "${current#@}" '@'
            else
                _pullsheet_offer "$plain" < <(_pullsheet_choices "$function" $((position + 1)))
            fi
            ;;
        *) _pullsheet_files "$current" '' ;;
    esac
}

complete -F _pullsheet pullsheet
