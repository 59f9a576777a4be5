#!/bin/sh
# make.sh PROGRAM [FOLDER]: makes every picture of the guide again with the given lidmark, in FOLDER or
# where this script lies. Ends with 1 when a script or a command fails.
set -eu
program=$(realpath -- "$1")
here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
house=$here/../../plans/two-storey.lidmark
mkdir -p -- "${2:-$here}"
cd -- "${2:-$here}"

"$program" replay "$house" "$here/draw.txt"
"$program" replay "$house" "$here/mark.txt"
"$program" picture "$house" --level L2 -o two-storey-upper.png
"$program" picture "$house" --level L2 --attic -o attic-side.png
"$program" picture "$house" --section -o section.png

SOURCE_DATE_EPOCH=1779840000 "$program" sheets "$house" -o sheets.pdf
pdftoppm -png -r 60 -f 1 -l 1 -singlefile sheets.pdf sheet-cover
pdftoppm -png -r 60 -f 4 -l 4 -singlefile sheets.pdf sheet-plan
rm -f sheets.pdf
