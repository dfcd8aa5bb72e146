# Reads the places of a drawing by other means than the program under test: zipfile
# and ElementTree, and matrices multiplied as 4x4 by rows.
import json, re, sys, zipfile
import xml.etree.ElementTree as ET

def matrix(node):
    m = node.find("Matrix")
    if m is None:
        return [[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]]
    n = [float(x) for x in re.findall(r"[^{},\s]+", m.text)]
    return [n[0:3] + [0], n[3:6] + [0], n[6:9] + [0], n[9:12] + [1]]

def times(a, b):
    return [[sum(a[i][k] * b[k][j] for k in range(4)) for j in range(4)] for i in range(4)]

out = []

def walk(node, outer):
    for child in node.findall("ChildList/*"):
        here = times(matrix(child), outer)
        if child.tag != "GroupObject":
            out.append({"name": child.get("name"), "at": [v / 1000 for v in here[3][:3]], "z": here[2][:3]})
        walk(child, here)

with zipfile.ZipFile(sys.argv[1]) as z:
    root = ET.fromstring(z.read("GeneralSceneDescription.xml"))
for layer in root.findall("Scene/Layers/Layer"):
    walk(layer, matrix(layer))
json.dump(out, sys.stdout)
