#!/bin/sh
# Cuts the three families to what the screens use: the axes of our settings, Latin with the
# accents of Europe, and the few arrows and signs we write. The full files are 300 kB and more;
# the cuts are a third of that. Run once by hand when a family or a setting changes; the results are committed.
# Needs Debian's python3-fonttools and python3-brotli. Run from this folder after npm ci.
set -eu
from=../../../node_modules/@fontsource-variable
work=$(mktemp -d)
latin='U+20-7E,U+A0-17F,U+2010,U+2011,U+2013,U+2014,U+2018-201E,U+2020,U+2022,U+2026,U+2032,U+2033,U+2039,U+203A,U+20AC,U+2190-2193,U+2212,U+2215,U+2260,U+2264,U+2265'
# Field numbers need digits, letters and a few signs, no accents; and no ligatures, which would join "->".
inked='U+20-7E,U+B0,U+B7,U+D7,U+2010,U+2011,U+2013,U+2014,U+2018,U+2019,U+2026,U+2212'

cut() { # name, unicodes, features, axes...
  name=$1 unicodes=$2 features=$3
  shift 3
  for part in latin latin-ext; do
    source="$from/$family/files/$family-$part-$axis-normal.woff2"
    fonttools varLib.instancer -q "$source" "$@" -o "$work/$name-$part.ttf"
    pyftsubset "$work/$name-$part.ttf" --unicodes="$unicodes" --layout-features="$features" \
      --flavor=woff2 --output-file="$name-$part.woff2"
  done
}

family=recursive axis=full
cut inked "$inked" 'zero' MONO=1 CASL=1 slnt=0 CRSV=0 wght=400:800
rm -f inked-latin-ext.woff2
family=literata axis=opsz
cut names "$latin" 'kern,liga,lnum,tnum,mark,locl' opsz=12:40 wght=450:600
family=commissioner axis=flar
cut plain "$latin" 'kern,liga,lnum,tnum,mark,locl' FLAR=40 wght=400:750
# For files that the server writes: one weight each, uncompressed, both parts in one.
for weight in regular:450 strong:700; do
  name=paper-${weight%:*}
  for part in latin latin-ext; do
    source="$from/$family/files/$family-$part-$axis-normal.woff2"
    fonttools varLib.instancer -q "$source" FLAR=40 wght="${weight#*:}" -o "$work/$name-$part-whole.ttf"
    pyftsubset "$work/$name-$part-whole.ttf" --unicodes="$latin" --layout-features='kern,lnum,tnum,mark' \
      --output-file="$work/$name-$part.ttf"
  done
  fonttools merge --output-file="$name.ttf" "$work/$name-latin.ttf" "$work/$name-latin-ext.ttf"
done
rm -rf "$work"
