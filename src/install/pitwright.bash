# Completion of pitwright for bash.  Commands and options are asked of the program itself.
_pitwright()
{
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} program=${COMP_WORDS[0]} command=${COMP_WORDS[1]}
  local IFS=$'\n'
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "$("$program" --help 2>/dev/null | sed -n 's/^  \([a-z][a-z]*\) [A-Z].*/\1/p')
help
--help
--version" -- "$word"))
    return
  fi
  case $before in
    --units | -u) COMPREPLY=($(compgen -W $'us\nsi' -- "$word")); return ;;
    --paper) COMPREPLY=($(compgen -W $'letter\na4' -- "$word")); return ;;
    --out | -o | --catalogs) COMPREPLY=($(compgen -d -- "$word")); return ;;
    --guests | -g | --seconds | --work | --pit | --zone | --setting | --at) return ;;
    --json | --dump-model) COMPREPLY=($(compgen -f -- "$word")); return ;;
  esac
  if [ "$command" = help ]; then
    COMPREPLY=($(compgen -W "$("$program" --help 2>/dev/null | sed -n 's/^  \([a-z][a-z]*\) [A-Z].*/\1/p')" -- "$word"))
    return
  fi
  case $word in
    -*) COMPREPLY=($(compgen -W "$("$program" help "$command" 2>/dev/null | sed -n '/^Options:/,$s/^.*\(--[a-z-]*\).*/\1/p')" -- "$word"))
      return ;;
  esac
  case $command in
    schema) COMPREPLY=($(compgen -W $'event\nhouse\ncatalog' -- "$word")) ;;
    verify) COMPREPLY=($(compgen -f -X '!*.json' -- "$word") $(compgen -d -- "$word")) ;;
    render) COMPREPLY=($(compgen -f -X '!*.json' -- "$word") $(compgen -d -- "$word")) ;;
    state | mend) COMPREPLY=($(compgen -f -- "$word")) ;;
    curve) ;;
    *) COMPREPLY=($(compgen -f -X '!*.yaml' -- "$word") $(compgen -d -- "$word")) ;;
  esac
}
complete -o filenames -F _pitwright pitwright
