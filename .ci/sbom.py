#!/usr/bin/env python3
"""Writes the bill of materials of the program, CycloneDX as JSON: sbom.py FILE [TARGET].

Every crate that Cargo compiles into the program or uses for that, with license and checksum. The same checkout gives the
same bytes: there is no clock and no serial number in it.
"""
import json
import re
import subprocess
import sys


def cargo(*words):
    done = subprocess.run(["cargo", *words], capture_output=True, text=True)
    if done.returncode:
        sys.exit(done.stderr)
    return done.stdout


def tree(target):
    """Name and version of each crate, the program's first, with those it needs."""
    found, above = {}, []
    shown = cargo("tree", "--locked", "--offline", "--edges", "normal", "--target", target, "--prefix", "depth",
                  "--format", " {p}")
    for line in shown.splitlines():
        depth, name, version = line.split()[:3]
        crate = (name, version.removeprefix("v"))
        found.setdefault(crate, set())
        del above[int(depth):]
        if above:
            found[above[-1]].add(crate)
        above.append(crate)
    return found


def spdx(license):
    """As SPDX writes it; older crates put a slash between two licenses."""
    return re.sub(r"\s*/\s*", " OR ", license)


def component(package, checksum):
    name, version = package["name"], package["version"]
    purl = f"pkg:cargo/{name}@{version.replace('+', '%2B')}"
    told = {
        "type": "library",
        "bom-ref": purl,
        "name": name,
        "version": version,
        "description": " ".join((package["description"] or "").split()),
        "licenses": [{"expression": spdx(package["license"])}],
        "purl": purl,
        "externalReferences": [{"type": "vcs", "url": package["repository"]}] if package["repository"] else [],
    }
    if checksum:
        told["hashes"] = [{"alg": "SHA-256", "content": checksum}]
    return told


def main(path, target):
    crates = tree(target)
    packages = json.loads(cargo("metadata", "--format-version", "1", "--locked", "--offline", "--filter-platform", target))
    known = {(one["name"], one["version"]): one for one in packages["packages"]}
    lock = open("Cargo.lock", encoding="utf-8").read()
    sums = {(name, version): sum for name, version, sum in re.findall(
        r'name = "(.+)"\nversion = "(.+)"\nsource = ".+"\nchecksum = "(.+)"', lock)}
    told = {crate: component(known[crate], sums.get(crate)) for crate in crates}
    program = told[next(iter(crates))]
    program["type"] = "application"
    bill = {
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": {"component": program, "properties": [{"name": "cargo:target", "value": target}]},
        "components": [told[crate] for crate in sorted(crates) if told[crate] is not program],
        "dependencies": [
            {"ref": told[crate]["bom-ref"], "dependsOn": [told[one]["bom-ref"] for one in sorted(needs)]}
            for crate, needs in sorted(crates.items())
        ],
    }
    with open(path, "w", encoding="utf-8") as file:
        json.dump(bill, file, indent=1, ensure_ascii=False)
        file.write("\n")


if __name__ == "__main__":
    host = re.search("host: (.+)", subprocess.run(["rustc", "-vV"], capture_output=True, text=True).stdout)[1]
    main(sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else host)
