"""AC resistance of coaxial circular turns in series by subdivided conductors.

Independent of the program: every conductor's section is cut into cells, each a coaxial ring with even current; their mutual
inductances by Maxwell's formula (SciPy's elliptic integrals), own terms by the rectangle's geometric mean distance; one
dense complex solve with the current of every turn given. Two or three meshes, extrapolated. Run: python3 generate.py
"""
import json
import numpy as np
from scipy.special import ellipe, ellipk

MU0 = 4e-7 * np.pi
RHO = 1 / 58e6  # IEC 60028, 20 C


def mutual(a, b, d):
    m = 4 * a * b / ((a + b) ** 2 + d * d)
    k = np.sqrt(m)
    return MU0 * np.sqrt(a * b) * ((2 / k - k) * ellipk(m) - 2 / k * ellipe(m))


def log_gmd(a, b):
    return (0.5 * np.log(a * a + b * b) - (b * b / (12 * a * a)) * np.log(1 + a * a / (b * b))
            - (a * a / (12 * b * b)) * np.log(1 + b * b / (a * a)) + 2 * a / (3 * b) * np.arctan(b / a)
            + 2 * b / (3 * a) * np.arctan(a / b) - 25 / 12)


def resistance(cells, turn, mirrored, frequencies):
    """Rac/Rdc at each frequency; mirrored cells stand for themselves and their image at -z."""
    r, z, w, h = cells
    n, turns = len(r), turn.max() + 1
    ra, rb = np.meshgrid(r, r, indexing='ij')
    za, zb = np.meshgrid(z, z, indexing='ij')
    with np.errstate(all='ignore'):
        ind = mutual(ra, rb, za - zb)
    np.fill_diagonal(ind, MU0 * r * (np.log(8 * r) - log_gmd(w, h) - 2))
    res = RHO * 2 * np.pi * r / (w * h)
    if mirrored:
        ind = (ind + mutual(ra, rb, za + zb)) / 2
        res = res / 2
    dc = sum(1 / np.sum(1 / res[turn == t]) for t in range(turns))
    out = []
    for f in frequencies:
        a = np.zeros((n + turns, n + turns), complex)
        a[:n, :n] = 2j * np.pi * f * ind + np.diag(res)
        a[np.arange(n), n + turn] = -1
        a[n + turn, np.arange(n)] = 1
        b = np.zeros(n + turns, complex)
        b[n:] = 1
        out.append(np.linalg.solve(a, b)[n:].sum().real / dc)
    return np.array(out)


def disc(r0, a, n):
    """Upper half of a disc on a square lattice of 2a/n, cells at the rim shrunk to their share."""
    s = 2 * a / n
    c = (np.arange(n) - (n - 1) / 2) * s
    x, y = np.meshgrid(c, c[n // 2:])
    q = (np.arange(16) - 7.5) / 16 * s
    part = np.mean([[((x + u) ** 2 + (y + v) ** 2 <= a * a) for u in q] for v in q], axis=(0, 1))
    keep = part > 0.02
    side = s * np.sqrt(part[keep])
    return r0 + x[keep], y[keep], side, side


def strip(r0, w, t, n):
    e = -np.cos(np.arange(n + 1) / n * np.pi) * w / 2
    c, width = (e[1:] + e[:-1]) / 2, np.diff(e)
    return r0 + c, 0 * c, width, 0 * c + t


def coil(section, radii):
    parts = [section(r) for r in radii]
    cells = [np.concatenate([p[i] for p in parts]) for i in range(4)]
    return cells, np.concatenate([np.full(len(p[0]), i) for i, p in enumerate(parts)])


def rows():
    traces = [('trace-0p8-70', 0.8e-3, 70e-6, 21.6e-3, 10.65e-3, 10), ('trace-2p4-35', 2.4e-3, 35e-6, 17e-3, 6.8e-3, 5),
              ('trace-1p0-35', 1.0e-3, 35e-6, 21e-3, 11e-3, 8), ('trace-1p1-70', 1.1e-3, 70e-6, 21.45e-3, 10.8e-3, 10)]
    for name, w, t, ro, ri, n in traces:
        fs = [1e4, 1e5, 2e5, 5e5]
        values = [resistance(*coil(lambda r: strip(r, w, t, k), np.linspace(ro, ri, n)), False, fs) for k in (24, 48, 96)]
        for f, v1, v2, v3 in zip(fs, *values):
            yield 'trace', name, dict(widthMm=w * 1e3, thicknessUm=t * 1e6, outerRadiusMm=ro * 1e3, innerRadiusMm=ri * 1e3,
                                      turns=n, frequencyHz=f), v3 + (v3 - v2) / 3, abs(v3 - v2)
    wires = [('wire-1p0', 1.0e-3, 21.45e-3, 10.8e-3, 10), ('wire-0p5', 0.5e-3, 21.45e-3, 10.8e-3, 10), ('wire-0p9-6', 0.9e-3, 16e-3, 11e-3, 6)]
    for name, d, ro, ri, n in wires:
        fs = [1e3, 1e4, 3e4, 1e5, 2e5]
        values = [resistance(*coil(lambda r: disc(r, d / 2, k), np.linspace(ro, ri, n)), True, fs) for k in (10, 14, 20)]
        for f, v1, v2, v3 in zip(fs, *values):
            # Errors fall as the square of the cell.
            yield 'wire', name, dict(diameterMm=d * 1e3, outerRadiusMm=ro * 1e3, innerRadiusMm=ri * 1e3, turns=n,
                                     frequencyHz=f), v3 + (v3 - v2) / ((20 / 14) ** 2 - 1), abs(v3 - v2)


if __name__ == '__main__':
    for kind, name, inputs, value, change in rows():
        print(json.dumps(dict(kind=kind, id=f"{name}-{inputs['frequencyHz']:.0f}", inputs=inputs, expected=float(f'{value:.6g}'),
                              meshChange=float(f'{change:.2g}'))), flush=True)
