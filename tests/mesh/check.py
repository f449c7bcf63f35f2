"""The models of built recipes, read by trimesh and cut with one another by manifold3d.

python check.py FOLDER... where each folder is what `ringwright build` wrote. Says what is wrong and exits with 1.
"""

import json
import sys
from pathlib import Path

import manifold3d
import numpy
import trimesh

VOLUME = 1e-6
# Pieces touch; what single precision makes of that, as a share of the smaller of two.
OVERLAP = 2e-6

wrong = []


def hold(is_so, *words):
    if not is_so:
        wrong.append(" ".join(str(word) for word in words))


def solid(points, faces):
    mesh = trimesh.Trimesh(points, faces, process=False)
    mesh.merge_vertices(merge_tex=True, merge_norm=True)
    return mesh


def pieces_of(scene):
    """Every named piece in millimeters, z upward."""
    pieces = {}
    for name in scene.graph.nodes_geometry:
        place, geometry = scene.graph[name]
        mesh = scene.geometry[geometry]
        points = trimesh.transform_points(mesh.vertices, place) * 1000
        # From the y that glTF has upward to z.
        points = numpy.column_stack([points[:, 0], -points[:, 2], points[:, 1]])
        extras = scene.graph.transforms.node_data[name].get("metadata") or mesh.metadata
        pieces[name] = (solid(points, mesh.faces), extras)
    return pieces


def check_solid(name, mesh):
    hold(mesh.is_watertight, name, "is not watertight")
    hold(mesh.is_winding_consistent, name, "is wound both ways")
    hold(mesh.is_volume and mesh.volume > 0, name, "is no solid")


def manifold(mesh):
    data = manifold3d.Mesh64(numpy.asarray(mesh.vertices, float), numpy.asarray(mesh.faces, numpy.uint64))
    return manifold3d.Manifold(data)


def extras_of(folder):
    """Straight from the file: what a reader makes of extras is its own affair."""
    data = (folder / "model.glb").read_bytes()
    length = int.from_bytes(data[12:16], "little")
    root = json.loads(data[20 : 20 + length])
    named = {node["name"]: node["extras"] for node in root["nodes"] if "mesh" in node}
    return named, root["nodes"][0]["extras"]


def check(folder):
    design = json.loads((folder / "design.json").read_text())
    scene = trimesh.load(folder / "model.glb", force="scene")
    pieces = pieces_of(scene)
    extras, lacks = extras_of(folder)
    hold(pieces.keys() == extras.keys(), folder.name, "has other nodes than names")
    sums = {}
    for name, (mesh, _) in pieces.items():
        name_here = f"{folder.name}: {name}"
        check_solid(name_here, mesh)
        told = extras[name]["volume_mm3"]
        hold(abs(mesh.volume / told - 1) < VOLUME, name_here, "holds", mesh.volume, "not", told)
        layer = extras[name].get("layer")
        sums[layer] = sums.get(layer, 0.0) + mesh.volume

    # What is let in takes wood of a layer that design.json still counts.
    is_bored = bool(design.get("inserts"))
    worst = 0.0
    for part in design["parts"]:
        for layer in part["layers"]:
            told, held = layer["finished_cm3"] * 1000, sums.pop(layer["id"], 0.0)
            off = held / told - 1
            worst = max(worst, abs(off)) if not is_bored else worst
            hold(off < VOLUME and (is_bored or off > -VOLUME), folder.name, layer["id"], "holds", held, "not", told)
    hold(set(sums) <= {None}, folder.name, "has layers of its own:", list(sums))

    # Neighbors: whose boxes meet.
    solids = {name: (manifold(mesh), mesh.bounds, mesh.volume) for name, (mesh, _) in pieces.items()}
    names, pairs, most = list(solids), 0, (0.0, "")
    for at, name in enumerate(names):
        cut, bounds, volume = solids[name]
        hold(cut.status() == manifold3d.Error.NoError, folder.name, name, cut.status())
        for other in names[at + 1 :]:
            with_it, its, its_volume = solids[other]
            if (bounds[0] > its[1]).any() or (its[0] > bounds[1]).any():
                continue
            pairs += 1
            both = (cut ^ with_it).volume() / min(volume, its_volume)
            most = max(most, (both, f"{name} and {other}"))
    hold(most[0] < OVERLAP, folder.name, "overlap by a share of", *most)

    # STL: the same triangles, piece after piece, in one list.
    stl = trimesh.load(folder / "model.stl", process=False)
    whole = sum(mesh.volume for mesh, _ in pieces.values())
    hold(abs(stl.volume / whole - 1) < VOLUME, folder.name, "STL holds", stl.volume, "not", whole)
    hold(len(stl.faces) == sum(len(mesh.faces) for mesh in scene.geometry.values()), folder.name, "STL has other faces")
    hold(numpy.allclose(stl.bounds, [numpy.min([m.bounds[0] for m, _ in pieces.values()], 0),
                                     numpy.max([m.bounds[1] for m, _ in pieces.values()], 0)], atol=1e-4),
         folder.name, "STL is of another size")
    from_face = 0
    for name in extras:
        mesh = scene.geometry[scene.graph[name][1]]
        triangles = stl.triangles[from_face : from_face + len(mesh.faces)]
        from_face += len(mesh.faces)
        check_solid(f"{folder.name}: {name} of the STL", solid(triangles.reshape(-1, 3), numpy.arange(len(triangles) * 3).reshape(-1, 3)))
    print(f"{folder.name}: {len(pieces)} pieces, {len(stl.faces)} triangles, layers off by {worst:.1e}, "
          f"{pairs} pairs overlap by {most[0]:.1e} ({most[1]}), absent {lacks}")


for folder in sys.argv[1:]:
    check(Path(folder))
for line in wrong[:40]:
    print("wrong:", line)
sys.exit(bool(wrong))
