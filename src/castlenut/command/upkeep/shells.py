"""Completion for shells: a script that knows every command and its options."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import UPKEEP, Command

if TYPE_CHECKING:
    from argparse import ArgumentParser
    from collections.abc import Callable, Mapping, Sequence

    from castlenut.command.call import Call

EVERYWHERE = ("--garage", "--today", "--plain")
"""Options that stand before any command as well."""

Options = dict[str, "tuple[str, Sequence[str]]"]
"""By command its words and its options."""


def bash(options: Options) -> str:
    """Give the script for bash."""
    cases = "\n".join(
        f'    {name}) words="{" ".join(own)}" ;;' for name, (_, own) in options.items()
    )
    return f"""# castlenut for bash: eval "$(castlenut completion bash)"
_castlenut() {{
  local at=1 word words
  COMPREPLY=()
  while [ "$at" -lt "$COMP_CWORD" ]; do
    word="${{COMP_WORDS[at]}}"
    case "$word" in
    --garage | --today) at=$((at + 2)) ;;
    -*) at=$((at + 1)) ;;
    *) break ;;
    esac
  done
  if [ "$at" -ge "$COMP_CWORD" ]; then
    words="{" ".join((*options, *EVERYWHERE, "--version", "--help"))}"
  else
    case "$word" in
{cases}
    esac
  fi
  COMPREPLY=($(compgen -W "$words" -- "${{COMP_WORDS[COMP_CWORD]}}"))
}}
complete -o default -F _castlenut castlenut"""


def zsh(options: Options) -> str:
    """Give the script for zsh."""
    names = "\n".join(f"    '{name}:{_quoted(words)}'" for name, (words, _) in options.items())
    cases = "\n".join(
        f"    {name}) compadd -- {' '.join(own)} ;;" for name, (_, own) in options.items()
    )
    return f"""#compdef castlenut
# castlenut for zsh: castlenut completion zsh > a folder of fpath/_castlenut
_castlenut() {{
  local at=2 word
  local -a names
  names=(
{names}
  )
  while (( at < CURRENT )); do
    word="$words[at]"
    case "$word" in
    --garage | --today) (( at += 2 )) ;;
    -*) (( at += 1 )) ;;
    *) break ;;
    esac
  done
  if (( at >= CURRENT )); then
    _describe command names
    compadd -- {" ".join((*EVERYWHERE, "--version", "--help"))}
    return
  fi
  if [[ "$words[CURRENT]" != -* ]]; then
    _files
    return
  fi
  case "$word" in
{cases}
  esac
}}
compdef _castlenut castlenut"""


def fish(options: Options) -> str:
    """Give the script for fish."""
    lines = ["# castlenut for fish: castlenut completion fish | source"]
    for name, (words, own) in options.items():
        lines.append(
            f"complete -c castlenut -n __fish_use_subcommand -a {name} -d '{_quoted(words)}'"
        )
        lines += [
            f"complete -c castlenut -n '__fish_seen_subcommand_from {name}' -l {option[2:]}"
            for option in own
            if option.startswith("--")
        ]
    return "\n".join(lines)


def _quoted(words: str) -> str:
    return words.replace("'", "").replace(":", ",")


_SHELLS: Mapping[str, Callable[[Options], str]] = {"bash": bash, "zsh": zsh, "fish": fish}


def _completion_arguments(parser: ArgumentParser) -> None:
    parser.add_argument("shell", metavar="SHELL", choices=tuple(_SHELLS), help="bash, zsh or fish")


def completion(options: Callable[[], Options]) -> Command:
    """Give the command; `options` tells what there is to complete, this command too."""

    def run(call: Call) -> int:
        output.write(*_SHELLS[call.text("shell")](options()).splitlines())
        return output.FINE

    return Command(
        "completion",
        group=UPKEEP,
        words="the script by which a shell completes commands and options",
        example='eval "$(castlenut completion bash)"',
        add_arguments=_completion_arguments,
        run=run,
    )
