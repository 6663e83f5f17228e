#!/bin/sh
# The manual page: words that stay, and the commands with their options as the program itself tells them.  man.sh PROGRAM
set -eu
program=$1
plain() { sed 's/\\/\\e/g; s/-/\\-/g; s/^[.'"'"']/\\\&&/'; }
version=$("$program" --version | sed 's/.* //')
cat <<MAN
.TH PITWRIGHT 1 "2026-11-25" "pitwright $version" "User commands"
.SH NAME
pitwright \\- plan a wood\\-fired barbecue job from one event file
.SH SYNOPSIS
.B pitwright
.I command
.RI [ options ]
.I operand
.SH DESCRIPTION
A caterer who cooks with wood describes a job in one file: who eats, what and when, which pits, ovens and boxes go along,
who is on shift, what things cost.
.B pitwright
turns it into the quote, the purchase list, which piece lies on which rack of which pit from when to when, how much wood
each fire wants, and a shift sheet.
It says so when a job does not fit, and what would help.
.PP
An event or a plan named
.B \\-
is read from standard input.
Faults go to standard error as
.IR file : line : column .
.SH COMMANDS
MAN
"$program" --help | sed -n 's/^  \([a-z][a-z]*\) [A-Z].*/\1/p' | while read -r command; do
  printf '.SS %s\n.nf\n' "$command"
  "$program" help "$command" | sed '1s/^pitwright [a-z]* - //' | plain | sed 's/^$/.sp/'
  printf '.fi\n'
done
cat <<'MAN'
.SH "EXIT STATUS"
.TP
.B 0
done
.TP
.B 1
done and written, but some pieces find no place: the plan says what is short and what would help
.TP
.B 2
the command line is off
.TP
.B 3
faulty input: the event, a catalog, or a file that is no plan; nothing is written
.TP
.B 4
.B verify
found rules broken
.TP
.B 5
a file could not be read or written
.TP
.B 6
internal fault: out of memory, the solver failed, or a plan did not pass its own judge; nothing is written
.SH ENVIRONMENT
.TP
.B PITWRIGHT_CATALOGS
folder of the catalogs, unless
.B \-\-catalogs
names one
.SH FILES
.TP
.I share/pitwright/*.yaml
beside the folder of the program: the catalogs, and the starter that
.B new
copies
.TP
.I share/pitwright/schema/*.json
JSON Schemas of event and catalog files, for editors
.SH CAUTIONS
Wood and charcoal give carbon monoxide: never a fire, glowing coals or warm ash where people are closed in.
The core temperatures of a plan are targets to measure, not promises.
Local codes, the fire authority and the health authority of the place decide.
MAN
