#!/usr/bin/python3
"""Reference values for lib/room/predictTransfer, by two routes that share no code with it.

images: the image-source sum, 4 pi sum exp(-j k r) / (4 pi r), k = sqrt(w^2 - 2 j d w) / c, over every image within a
        radius; the edge of the sphere is tapered (raised cosine over its outer half) to damp the ripple of a sharp edge.
modes:  the plain triple modal sum over 0..N-1 along each axis, each term tapered by exp(-(k_n s)^2), s = a smearing
        of the source over some centimetres that is undone by exp(+k^2 s^2).

Writes roomTransfer.json beside itself.
"""
import json
import os
import sys

import numpy as np

ROOMS = [
    dict(lengthM=4.2, widthM=3.1, heightM=2.4, temperatureC=20, decayS=0.25, source=[0.4, 0.5, 0.3], microphone=[2.9, 1.7, 1.1]),
    dict(lengthM=6.3, widthM=4.4, heightM=2.6, temperatureC=17, decayS=0.5, source=[0, 0, 0], microphone=[3.1, 2.3, 1.2]),
    dict(lengthM=7.9, widthM=5.1, heightM=2.9, temperatureC=25, decayS=0.4, source=[0.7, 4.6, 0.35], microphone=[5.2, 1.1, 1.25]),
    dict(lengthM=5.0, widthM=4.0, heightM=2.5, temperatureC=20, decayS=0.35, source=[2.0, 1.9, 1.0], microphone=[2.3, 2.1, 1.2]),
    dict(lengthM=3.0, widthM=2.8, heightM=9.0, temperatureC=22, decayS=0.3, source=[1.1, 1.0, 0.3], microphone=[1.3, 1.2, 7.7]),
]
HZ = [5.0, 17.3, 26.5, 33.0, 47.9, 71.3, 120.0, 190.0]
PATH_DB = 19.0  # damping in nepers at the radius


def medium(room):
    c = 331.3 * np.sqrt(1 + room["temperatureC"] / 273.15)
    d = 3 * np.log(10) / room["decayS"]
    return c, d


def images(room):
    c, d = medium(room)
    k = [np.sqrt((2 * np.pi * f) ** 2 - 2j * d * 2 * np.pi * f) / c for f in HZ]
    k = [x if x.imag < 0 else -x for x in k]
    size = np.array([room["lengthM"], room["widthM"], room["heightM"]])
    s, r = np.array(room["source"]), np.array(room["microphone"])
    # the slowest to die is the lowest frequency
    radius = PATH_DB / min(-x.imag for x in k)
    coords = []
    for i in range(3):
        n = int(np.ceil(radius / (2 * size[i]))) + 1
        base = 2 * size[i] * np.arange(-n, n + 1)
        coords.append(np.concatenate([base + s[i], base - s[i]]) - r[i])
    total = np.zeros(len(HZ), complex)
    yz2 = (coords[1][:, None] ** 2 + coords[2][None, :] ** 2).ravel()
    for x in coords[0]:
        dist = np.sqrt(x * x + yz2)
        dist = dist[dist < radius]
        taper = np.where(dist < radius / 2, 1.0, 0.5 * (1 + np.cos(np.pi * (2 * dist / radius - 1))))
        for j, kj in enumerate(k):
            total[j] += np.sum(taper * np.exp(-1j * kj * dist) / dist)
    return total


def modes(room):
    c, d = medium(room)
    size = [room["lengthM"], room["widthM"], room["heightM"]]
    volume = size[0] * size[1] * size[2]
    s, r = room["source"], room["microphone"]
    apart = np.sqrt(sum((a - b) ** 2 for a, b in zip(s, r)))
    smear = min(apart, 1.0) / 12
    highest = 5.5 / smear
    k1, w1 = [], []
    for i in range(3):
        kn = np.arange(int(highest * size[i] / np.pi) + 1) * np.pi / size[i]
        e = np.where(kn == 0, 1.0, 2.0)
        k1.append(kn**2)
        w1.append(e * np.cos(kn * s[i]) * np.cos(kn * r[i]) * np.exp(-kn**2 * smear**2))
    k2 = [((2 * np.pi * f) ** 2 - 2j * d * 2 * np.pi * f) / c**2 for f in HZ]
    total = np.zeros(len(HZ), complex)
    yz = (k1[1][:, None] + k1[2][None, :]).ravel()
    wyz = (w1[1][:, None] * w1[2][None, :]).ravel()
    for kx, wx in zip(k1[0], w1[0]):
        for j, x in enumerate(k2):
            total[j] += wx * np.sum(wyz / (kx + yz - x))
    return 4 * np.pi / volume * total * np.exp([x * smear**2 for x in k2])


def columns(p):
    return dict(levelDb=np.round(20 * np.log10(abs(p)), 6).tolist(), phaseDeg=np.round(np.degrees(np.angle(p)), 5).tolist())


out = dict(
    about="made by roomTransfer.py",
    versions=dict(python=sys.version.split()[0], numpy=np.__version__),
    frequencyHz=HZ,
    rooms=[dict(room=room, images=columns(images(room)), modes=columns(modes(room))) for room in ROOMS],
)
path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "roomTransfer.json")
with open(path, "w") as file:
    json.dump(out, file, indent=1)
for row in out["rooms"]:
    print([round(a - b, 5) for a, b in zip(row["images"]["levelDb"], row["modes"]["levelDb"])])
