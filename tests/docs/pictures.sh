#!/bin/sh
# pictures.sh FOLDER PROGRAM: makes the pictures of the guide in the working folder and sees that these
# are the pictures that lie in FOLDER, by name; and that a script that cannot be done is an error.
set -eu
folder=$1
program=$2
rm -rf made broken
sh "$folder/make.sh" "$program" made

wrong=0
for picture in "$folder"/*.png; do
    name=${picture##*/}
    if [ ! -s "made/$name" ]; then
        echo "$name: no script makes it"
        wrong=1
    fi
done
for picture in made/*.png; do
    if [ ! -e "$folder/${picture##*/}" ]; then
        echo "${picture##*/}: made, but not in $folder"
        wrong=1
    fi
done

# The proof that a broken script is noticed: the same scripts, one with a button that is not there.
mkdir -p broken/docs/pictures
cp -R "$folder/../../plans" broken/plans
cp "$folder"/*.txt "$folder/make.sh" broken/docs/pictures/
echo "press no/such/button" >> broken/docs/pictures/draw.txt
if sh broken/docs/pictures/make.sh "$program" broken/made 2> broken/said; then
    echo "make.sh: a script that cannot be done is no error"
    wrong=1
fi
grep -q 'no/such/button' broken/said || { echo "make.sh: failed for another reason"; wrong=1; }
exit $wrong
