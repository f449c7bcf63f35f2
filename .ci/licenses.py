#!/usr/bin/env python3
"""Prints who wrote what the program contains of others, and under which license, from its bill of materials.

licenses.py BILL prints Markdown with the text of each license, as the crates themselves carry it;
licenses.py --debian LICENSE BILL prints the paragraphs of a Debian copyright file.
"""
import json
import pathlib
import re
import subprocess
import sys

FONT = pathlib.Path("src/output/pdf/fonts/LICENSE.txt")
NAMES = re.compile(r"(licen[sc]e|copying|notice|copyright|unlicense)", re.IGNORECASE)


def texts(folder):
    """The license files that lie in a crate."""
    return [file for file in sorted(folder.iterdir()) if file.is_file() and NAMES.match(file.name)]


def holders(files):
    """The lines that say whose it is."""
    lines = []
    for file in files:
        for line in file.read_text(encoding="utf-8", errors="replace").splitlines():
            line = " ".join(line.split()).strip("#*- ")
            if re.match(r"(copyright|\(c\)|©)\s.*\d{4}", line, re.IGNORECASE) and line not in lines:
                lines.append(line)
    return lines


def folders():
    """Where the sources of each crate lie."""
    done = subprocess.run(["cargo", "metadata", "--format-version", "1", "--locked", "--offline", "--filter-platform",
                           target], capture_output=True, text=True, check=True)
    packages = json.loads(done.stdout)["packages"]
    return {(one["name"], one["version"]): (pathlib.Path(one["manifest_path"]).parent, one["authors"]) for one in packages}


def markdown(bill, places):
    print("# Licenses of others\n\nringwright contains these crates; each text stands once, with the crates that carry it.\n")
    carried = {}
    for one in bill["components"]:
        folder, authors = places[one["name"], one["version"]]
        who = holders(texts(folder)) or authors
        print(f"- {one['name']} {one['version']}: {one['licenses'][0]['expression']}; {'; '.join(who) or 'its authors'}")
        for file in texts(folder):
            text = file.read_text(encoding="utf-8", errors="replace").strip()
            carried.setdefault(text, []).append(f"{one['name']} {one['version']}")
    for text, crates in carried.items():
        fence = "````" if "```" in text else "```"
        print(f"\n## {', '.join(crates)}\n\n{fence}text\n{text}\n{fence}")
    print(f"\n## The font of the shop sheet\n\n```text\n{FONT.read_text(encoding='utf-8').strip()}\n```")


def debian(own, bill, places):
    groups = {}
    for one in bill["components"]:
        folder, authors = places[one["name"], one["version"]]
        who = holders(texts(folder)) or authors or [f"the authors of {one['name']}"]
        groups.setdefault(one["licenses"][0]["expression"], []).append((one, who))
    # One line for each crate: all are linked into one file, so that no pattern can tell them apart.
    print("Comment:\n The program contains these crates of others:")
    for license, crates in sorted(groups.items()):
        for one, who in crates:
            print(f"  {one['name']} {one['version']} ({license}): {'; '.join(who)}")
    print(" The texts of their licenses stand in LICENSES-OF-OTHERS.md.gz beside this file.")
    own = pathlib.Path(own).read_text(encoding="utf-8")
    own = own.replace("http://www.apache.org/licenses/LICENSE-2.0", "/usr/share/common-licenses/Apache-2.0")
    print("\nLicense: MIT or Apache-2.0")
    indented(own)
    print("\nFiles: usr/bin/ringwright\nCopyright: 2003 Bitstream, Inc.\nLicense: Bitstream-Vera\nComment: The font of the shop sheet.")
    print("\nLicense: Bitstream-Vera")
    indented(FONT.read_text(encoding="utf-8"))


def indented(text):
    for line in text.splitlines():
        print(f" {line}" if line.strip() else " .")


target = None
if __name__ == "__main__":
    words = sys.argv[1:]
    bill = json.load(open(words[-1], encoding="utf-8"))
    target = bill["metadata"]["properties"][0]["value"]
    if words[0] == "--debian":
        debian(words[1], bill, folders())
    else:
        markdown(bill, folders())
