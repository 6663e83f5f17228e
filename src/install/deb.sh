#!/bin/sh
# The Debian package of one build: deb.sh BUILD_DIR.  What it needs at run time is read off the program's own links.
set -eu
build=$1
version=$("$build/pitwright" --version | sed 's/.* //')
arch=$(dpkg --print-architecture)
work=$build/deb
rm -rf "$work"
mkdir -p "$work/tree/DEBIAN" "$work/debian"
sh src/install/install.sh install "$build" "$work/tree" /usr
strip --strip-unneeded "$work/tree/usr/bin/pitwright"
strip --strip-debug "$work/tree/usr/lib/libpitwright.a"
gzip -9n "$work/tree/usr/share/man/man1/pitwright.1"
printf 'Source: pitwright\n\nPackage: pitwright\nArchitecture: any\nDescription: x\n' >"$work/debian/control"
depends=$(cd "$work" && dpkg-shlibdeps -O tree/usr/bin/pitwright 2>/dev/null | sed -n 's/^shlibs:Depends=//p')
cat >"$work/tree/DEBIAN/control" <<CONTROL
Package: pitwright
Version: $version
Architecture: $arch
Maintainer: The pitwright authors <pitwright@localhost>
Installed-Size: $(du -sk --exclude=DEBIAN "$work/tree" | cut -f1)
Depends: $depends, tzdata
Suggests: libglpk-dev, libyaml-dev, libjansson-dev, libxlsxwriter-dev
Section: utils
Priority: optional
Description: plan a wood-fired barbecue job from one event file
 A caterer who cooks with wood describes a job in one file; pitwright makes the
 quote, the purchase list, the plan of every rack of every pit, the fuel and the
 shift sheet of it. With the library, its header and JSON Schemas for editors.
CONTROL
(cd "$work/tree" && find usr -type f | LC_ALL=C sort | xargs md5sum >DEBIAN/md5sums)
dpkg-deb --root-owner-group --build "$work/tree" "$build/pitwright_${version}_$arch.deb" >/dev/null
echo "$build/pitwright_${version}_$arch.deb"
