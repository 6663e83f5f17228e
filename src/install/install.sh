#!/bin/sh
# Puts the files of the list below under a root and a prefix, or takes exactly those away: install.sh install|uninstall
# BUILD_DIR ROOT PREFIX.  Folders that only pitwright uses go with the last file in them.
set -eu
what=$1 build=$2 root=$3 prefix=$4
case $prefix in
  /*) ;;
  *)
    if [ -n "$root" ]; then
      echo "install: with DESTDIR the PREFIX begins with a slash, such as /usr, not \"$prefix\"" >&2
      exit 2
    fi
    prefix=$(pwd)/$prefix ;; # pkg-config is asked from anywhere
esac
to=$root$prefix
stage=$build/stage

list() { # mode, file here, path under the prefix
  echo "755 $build/pitwright bin/pitwright"
  echo "644 $build/libpitwright.a lib/libpitwright.a"
  echo "644 $stage/pitwright.pc lib/pkgconfig/pitwright.pc"
  for h in pitwright.h status.h; do echo "644 include/pw/$h include/pitwright/pw/$h"; done
  for f in templates/*.yaml; do echo "644 $f share/pitwright/${f##*/}"; done
  for k in event house catalog; do echo "644 $stage/$k.schema.json share/pitwright/schema/$k.schema.json"; done
  for f in events/*.yaml; do echo "644 $f share/doc/pitwright/examples/${f##*/}"; done
  echo "644 README.md share/doc/pitwright/README.md"
  echo "644 $stage/copyright share/doc/pitwright/copyright"
  echo "644 $stage/pitwright.1 share/man/man1/pitwright.1"
  echo "644 src/install/pitwright.bash share/bash-completion/completions/pitwright"
}

if [ "$what" = install ]; then
  mkdir -p "$stage"
  version=$("$build/pitwright" --version | sed 's/.* //')
  # no pattern of sed: a folder may be called anything
  while IFS= read -r line; do
    case $line in
      prefix=@PREFIX@) printf 'prefix=%s\n' "$prefix" ;;
      Version:*) printf 'Version: %s\n' "$version" ;;
      *) printf '%s\n' "$line" ;;
    esac
  done <src/install/pitwright.pc.in >"$stage/pitwright.pc"
  sh src/install/man.sh "$build/pitwright" >"$stage/pitwright.1"
  for k in event house catalog; do "$build/pitwright" schema $k >"$stage/$k.schema.json"; done
  { echo "pitwright is free software under the GNU General Public License, version 3 or later."
    echo "On Debian systems its text is in /usr/share/common-licenses/GPL-3."; } >"$stage/copyright"
  list | while read -r mode from path; do
    install -d "$to/$(dirname "$path")"
    install -m "$mode" "$from" "$to/$path"
  done
else
  list | while read -r mode from path; do rm -f "$to/$path"; done
  for d in include/pitwright/pw include/pitwright share/pitwright/schema share/pitwright share/doc/pitwright/examples share/doc/pitwright; do
    if [ -d "$to/$d" ]; then rmdir --ignore-fail-on-non-empty "$to/$d"; fi
  done
fi
