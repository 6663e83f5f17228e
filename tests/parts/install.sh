#!/bin/sh
# What a user installs, in folders of its own: every file put and taken away again, the program and its catalogs from there,
# the manual page, completion, a C and a C++ program outside the tree, the Debian package, a hardened program.
# install.sh BUILD_DIR
set -u
. "$(dirname "$0")/begin"
build=$1 # relative, as the targets of make use it
why=
expect() { # a condition and what it means
  what=$1
  shift
  "$@" || why="$why  $what
"
}
not() { ! "$@"; }
verdict() {
  if [ -z "$why" ]; then echo "ok install $1"
  else printf '%s' "$why"; sed 's/^/  said: /' "$tmp/said" 2>/dev/null | head -n 8; echo "FAIL install $1"; fi
  why=
}
run() { "$@" >"$tmp/said" 2>&1 </dev/null; }
tree() { (cd "$1" && find . ! -type d | LC_ALL=C sort); }

# ---- another compiler ----------------------------------------------------------------------------------------------

if command -v clang >/dev/null; then
  expect "clang takes it without a warning" run make -s syntax CC=clang CFLAGS=
  verdict another-compiler
fi

# ---- prefixes that are patterns to others ---------------------------------------------------------------------------

for odd in '/opt/smoke & salt' '/opt/a|b' '/opt/50%\\1'; do
  expect "installs under $odd" run sh src/install/install.sh install "$build" "$tmp/odd" "$odd"
  expect "pkg-config is told $odd" grep -qxF "prefix=$odd" "$tmp/odd$odd/lib/pkgconfig/pitwright.pc"
  expect "goes again from $odd" run sh src/install/install.sh uninstall "$build" "$tmp/odd" "$odd"
  expect "nothing is left of $odd" [ -z "$(find "$tmp/odd" -type f)" ]
done
expect "a relative prefix under DESTDIR is refused" not run sh src/install/install.sh install "$build" "$tmp/rel" usr
expect "and nothing is put anywhere" [ ! -e "$tmp/rel" ]
expect "nor beside" [ ! -e "$tmp/relusr" ]
expect "the reason is said" grep -q 'begins with a slash' "$tmp/said"
verdict odd-prefixes

# ---- install and uninstall: the same list, and nothing of anybody else ------------------------------------------

root=$tmp/root prefix=/opt/cook\ shed
mkdir -p "$root$prefix/share/pitwright" "$root$prefix/bin"
echo mine >"$root$prefix/share/pitwright/mine.yaml"
echo other >"$root$prefix/bin/other"
tree "$root" >"$tmp/before"
expect "installs" run sh src/install/install.sh install "$build" "$root" "$prefix"
at=$root$prefix
for f in bin/pitwright lib/libpitwright.a lib/pkgconfig/pitwright.pc include/pitwright/pw/pitwright.h share/man/man1/pitwright.1 \
  share/bash-completion/completions/pitwright share/pitwright/cuts.yaml share/pitwright/schema/event.schema.json; do
  expect "$f is there" [ -s "$at/$f" ]
done
expect "no file names the tree it was built in" not grep -rqF "$(pwd)" "$at/lib/pkgconfig" "$at/share"
run "$at/bin/pitwright" new "$tmp/job.yaml"
expect "finds its starter" [ -s "$tmp/job.yaml" ]
expect "finds its catalogs" run "$at/bin/pitwright" check "$tmp/job.yaml"
expect "uninstalls" run sh src/install/install.sh uninstall "$build" "$root" "$prefix"
tree "$root" >"$tmp/after"
expect "what was there before is there, and nothing else" cmp -s "$tmp/before" "$tmp/after"
expect "its own folders are gone" [ ! -e "$at/include/pitwright" ]
verdict install-and-uninstall

# ---- for the tests below ------------------------------------------------------------------------------------------

prefix=/usr/local
at=$tmp/dest$prefix
sh src/install/install.sh install "$build" "$tmp/dest" "$prefix" || echo "FAIL install (second time)"

# ---- manual page ----------------------------------------------------------------------------------------------------

page=$at/share/man/man1/pitwright.1
if command -v mandoc >/dev/null; then
  mandoc -Tlint -Wwarning "$page" >"$tmp/said" 2>&1
  expect "mandoc finds nothing" [ ! -s "$tmp/said" ]
  mandoc -Tascii "$page" 2>/dev/null | sed 's/.\x08//g' >"$tmp/page"
  for c in $("$build/pitwright" --help | sed -n 's/^  \([a-z][a-z]*\) [A-Z].*/\1/p'); do
    expect "the page has $c" grep -q "^   $c\$" "$tmp/page"
    expect "README.md has $c" grep -q "^| \`$c " README.md
  done
  for o in $(for c in $("$build/pitwright" --help | sed -n 's/^  \([a-z][a-z]*\) [A-Z].*/\1/p'); do "$build/pitwright" help $c; done |
    sed -n 's/^  .*\(--[a-z-]*\) .*  .*/\1/p' | sort -u); do
    expect "the page has $o" grep -q -e "$o" "$tmp/page"
    expect "README.md has $o" grep -q -e "\`[^\`]*$o" README.md
  done
  verdict manual-page
else
  echo "FAIL install manual-page (mandoc is needed: make deps-test)"
fi

# ---- completion -------------------------------------------------------------------------------------------------------

cat >"$tmp/complete.bash" <<'BASH'
# complete.bash PROGRAM_FOLDER COMPLETION WORDS...: the words that the last one may become
PATH=$1:$PATH
source "$2"
shift 2
COMP_WORDS=("$@") COMP_CWORD=$(($# - 1))
_pitwright
printf '%s\n' "${COMPREPLY[@]}" | sort
BASH
becomes() { # words, wanted
  wanted=$1
  shift
  (cd "$tmp" && bash complete.bash "$at/bin" "$at/share/bash-completion/completions/pitwright" "$@") 2>&1 | tr '\n' ' ' | sed 's/ $//' >"$tmp/said"
  expect "$* becomes $wanted" [ "$(cat "$tmp/said")" = "$wanted" ]
}
mkdir -p "$tmp/my jobs"
becomes 'plan' pitwright pl
becomes 'schema' pitwright sch
becomes '--dump-model' pitwright plan --du
becomes '--guests' pitwright quote job.yaml --g
becomes 'si us' pitwright quote --units ''
becomes 'catalog event house' pitwright schema ''
becomes 'job.yaml' pitwright check jo
becomes 'my jobs' pitwright plan -o my
becomes '' pitwright verify job.ya
verdict bash-completion

# ---- the library, from outside ------------------------------------------------------------------------------------------

mkdir "$tmp/outside"
cat >"$tmp/outside/use.c" <<'C'
#include <pw/pitwright.h>
#include <stdio.h>
#include <string.h>
int main(int argc, char **argv)
{
  struct pw_job *job;
  const char *json = NULL, *text = NULL;
  size_t n = 0;
  int findings = -1;
  struct pw_how how;
  memset(&how, 0, sizeof how);
  how.care = PW_QUICK;
  how.folder = argv[3];
  if (argc < 4 || pw_job_open(&job) != PW_OK)
    return 10;
  if (pw_job_plan(job, PW_QUICK, 0) != PW_ERR_USAGE || pw_job_json(job, &json, &n) != PW_ERR_USAGE || pw_job_missed(job) != -1)
    return 11;
  pw_status st = pw_job_read(job, argv[1], argv[2]);
  if (st == PW_OK)
    st = pw_job_guests(job, 44);
  if (st == PW_OK)
    st = pw_job_check(job);
  if (st == PW_OK)
    st = pw_job_plan_how(job, &how);
  if (st == PW_OK)
    st = pw_job_text(job, PW_TEXT_QUOTE, &text, &n);
  if (st == PW_OK)
    st = pw_job_json(job, &json, &n);
  if (st == PW_OK)
    st = pw_job_judge(job, json, n, &findings);
  if (st == PW_OK)
    st = pw_job_write(job, argv[3]);
  for (int i = 0; i < pw_job_n_diags(job); i++)
    if (pw_job_diag(job, i)->severity == PW_ERROR)
      fputs(pw_job_diag_told(job, i), stdout);
  printf("version %s, status %d, %d missed, %d findings, json %s, %s, %d files\n", pw_version(), (int)st, pw_job_missed(job),
         findings, json && strlen(json) == n ? "whole" : "torn", text && strstr(text, "44 guests") ? "a quote" : "no quote",
         pw_job_n_files(job));
  pw_job_close(job);
  return (int)st;
}
C
cp "$tmp/outside/use.c" "$tmp/outside/use.cpp"
case $build in
  *san*) ;; # a sanitized library wants the sanitizer's own link flags
  *)
    for lang in "${CC:-cc} -std=c11 use.c" "${CXX:-g++} -std=c++17 use.cpp"; do
      # shellcheck disable=SC2016,SC2086  # the inner shell expands; the words are meant to split
      expect "${lang##* } compiles and links" run env PKG_CONFIG_SYSROOT_DIR= PKG_CONFIG_PATH="$at/lib/pkgconfig" sh -c '
        cd "$1" && $2 -Wall -Wextra -Werror -o use $(pkg-config --define-variable=prefix="$3" --cflags pitwright) \
          $(pkg-config --define-variable=prefix="$3" --libs pitwright)' sh "$tmp/outside" "${lang% *} ${lang##* }" "$at"
      catalogs=$(PKG_CONFIG_PATH=$at/lib/pkgconfig pkg-config --define-variable=prefix="$at" --variable=catalogdir pitwright)
      expect "${lang##* } plans" run "$tmp/outside/use" events/family-party.yaml "$catalogs" "$tmp/outside/pack"
      expect "${lang##* } says so" grep -q 'status 0, 0 missed, 0 findings, json whole, a quote, [1-9]' "$tmp/said"
      expect "${lang##* } writes the pack" run "$build/pitwright" verify "$tmp/outside/pack/plan.json"
      rm -rf "$tmp/outside/use" "$tmp/outside/pack"
    done
    verdict library-from-c-and-c++ ;;
esac

# ---- the Debian package: unpacked by dpkg into an empty root, with the dependencies of this system -------------------------

case $build in
  *release)
    deb=$(sh src/install/deb.sh "$build" 2>"$tmp/said")
    expect "is built" [ -s "$deb" ]
    for p in libc6 libglpk40 libyaml-0-2 libjansson4 libxlsxwriter; do
      expect "depends on $p" sh -c 'dpkg-deb -f "$1" Depends | grep -q "$2"' sh "$deb" "$p"
    done
    mkdir -p "$tmp/deb" "$tmp/admin/info" "$tmp/admin/updates"
    cp /var/lib/dpkg/status "$tmp/admin/status"
    : >"$tmp/admin/available"
    expect "dpkg takes it, dependencies and all" run env PATH="$PATH:/usr/sbin:/sbin" dpkg --force-not-root --instdir="$tmp/deb" \
      --admindir="$tmp/admin" --log="$tmp/dpkg.log" --no-triggers -i "$deb"
    expect "its program plans" run "$tmp/deb/usr/bin/pitwright" quote events/family-party.yaml
    expect "its sums are true" run sh -c 'mkdir "$1/e" && dpkg-deb -e "$2" "$1/e" && cd "$1/deb" && md5sum --quiet -c "$1/e/md5sums"' sh "$tmp" "$PWD/$deb"
    verdict debian-package

    # ---- hardened ------------------------------------------------------------------------------------------------------
    readelf -W -h -l -d "$build/pitwright" >"$tmp/said"
    expect "position-independent" grep -q 'Type:.*DYN' "$tmp/said"
    expect "relocations read-only" grep -q GNU_RELRO "$tmp/said"
    expect "bound at start" grep -q -E 'BIND_NOW|FLAGS.*NOW' "$tmp/said"
    expect "no stack runs" sh -c 'grep GNU_STACK "$1" | grep -q "RW " && ! grep GNU_STACK "$1" | grep -q RWE' sh "$tmp/said"
    expect "no path for libraries" not grep -q -E 'RPATH|RUNPATH' "$tmp/said"
    readelf -W --dyn-syms "$build/pitwright" >"$tmp/said"
    expect "stack guarded" grep -q __stack_chk_fail "$tmp/said"
    expect "calls checked (fortify)" grep -q '_chk@' "$tmp/said"
    verdict hardened ;;
esac
