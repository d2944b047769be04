"""Independent values for the lessons on shape and on collapse.

Other methods than src. Shape: every turn a closed polyline, the rounded rectangle's arcs in short chords, Neumann's double sum
over midpoints (mutual), the same with the wire's geometric mean distance exp(-1/4) a under the root (own turns); circles by
Maxwell's formula with scipy's elliptic integrals and Kirchhoff's own inductance. Collapse: ../circuit-periodic/generate.py (time
domain, adaptive Runge-Kutta).
Run: python3 generate.py (some minutes).
"""
import importlib.util, math, os
import numpy as np
from scipy.special import ellipk, ellipe

MU0 = 4e-7 * math.pi
WIRE = 0.25e-3            # copper radius, m
WIDTH = 0.55e-3           # with insulation, m
GAP, OFFSET = 6e-3, 14e-3
AREA, TURNS, BAND, CORNER = 1000e-6, 8, 5e-3, 0.4
RING_TURNS, RING_OUT, RING_IN = 10, 44e-3, 20.5e-3


def loop(width, height, radius, chords=96):
    """A rounded rectangle, centre line, as points of a closed polyline."""
    pts = []
    for (cx, cy, a0) in [(1, 1, 0), (-1, 1, 90), (-1, -1, 180), (1, -1, 270)]:
        for i in range(chords + 1):
            a = math.radians(a0 + 90 * i / chords)
            pts.append((cx * (width / 2 - radius) + radius * math.cos(a), cy * (height / 2 - radius) + radius * math.sin(a)))
    out = []
    for i, p in enumerate(pts):
        q = pts[(i + 1) % len(pts)]
        n = max(1, int(math.ceil(math.dist(p, q) / 0.25e-3)))
        out += [(p[0] + (q[0] - p[0]) * j / n, p[1] + (q[1] - p[1]) * j / n) for j in range(n)]
    out = np.array(out)
    nxt = np.roll(out, -1, axis=0)
    keep = np.linalg.norm(nxt - out, axis=1) > 1e-12
    return ((out + nxt) / 2)[keep], (nxt - out)[keep]


def neumann(a, b, dz, gmd=0.0):
    (pa, da), (pb, db) = a, b
    total = 0.0
    for i in range(0, len(pa), 200):
        d = pa[i:i + 200, None, :] - pb[None, :, :]
        r = np.sqrt((d ** 2).sum(-1) + dz * dz + gmd * gmd)
        total += ((da[i:i + 200, None, :] * db[None, :, :]).sum(-1) / r).sum()
    return MU0 / (4 * math.pi) * total


def coaxial(a, b, z):
    m = 4 * a * b / ((a + b) ** 2 + z * z)
    k = math.sqrt(m)
    return MU0 * math.sqrt(a * b) * ((2 / k - k) * ellipk(m) - 2 / k * ellipe(m))


def potential(radius, rho, z):
    """Tangential vector potential of a circular loop per ampere, Wb/m."""
    m = 4 * radius * rho / ((radius + rho) ** 2 + z * z)
    k = np.sqrt(m)
    return MU0 / (math.pi * k) * np.sqrt(radius / rho) * ((1 - m / 2) * ellipk(m) - ellipe(m))


def rings():
    first, last = (RING_OUT - WIDTH) / 2, (RING_IN + WIDTH) / 2
    return [first + (last - first) * i / (RING_TURNS - 1) for i in range(RING_TURNS)]


def rectangles(ratio):
    w = math.sqrt(AREA / (ratio - (4 - math.pi) * CORNER ** 2))
    step = (BAND - WIDTH) / (TURNS - 1)
    turns = []
    for i in range(TURNS):
        inset = WIDTH / 2 + i * step
        turns.append((ratio * w - 2 * inset, w - 2 * inset, CORNER * w - inset))
    return turns


def shape():
    r = rings()
    own = sum(MU0 * a * (math.log(8 * a / WIRE) - 2 + 0.25) for a in r)
    l1 = own + sum(coaxial(a, b, 0) for a in r for b in r if a != b)
    rows = []
    for ratio in (1, 2, 3):
        turns = [loop(*t) for t in rectangles(ratio)]
        gmd = WIRE * math.exp(-0.25)
        l2 = sum(neumann(a, b, 0, gmd if i == j else 0) for i, a in enumerate(turns) for j, b in enumerate(turns))
        z = GAP + WIDTH
        def mutual(ox):
            total = 0.0
            for mid, d in turns:
                p = mid + np.array([ox, 0])
                rho = np.hypot(p[:, 0], p[:, 1])
                along = (-p[:, 1] * d[:, 0] + p[:, 0] * d[:, 1]) / rho
                total += sum((potential(a, rho, z) * along).sum() for a in r)
            return total
        rows.append(dict(ratio=ratio, l1=l1, l2=l2, centred=mutual(0) / math.sqrt(l1 * l2), along=mutual(OFFSET) / math.sqrt(l1 * l2)))
    return rows


# Lesson 6 at 1.1 A and k 0.4: frequency, bridge voltage and warm resistances that the control comes to.
BEYOND = dict(bridge="full", L1=7.3e-6, C1=4e-7, R1=0.0525, Ron=0.02, RC1=0.01, L2=15.3e-6, Cs=1.2e-7, R2=0.141, RCs=0.02,
              Cd=1.8e-9, Vd0=0.11, Rd=0.05, Vin=4.877, k=0.4, f=135566, duty=1, Idc=1.11, Crect=2e-5, Vstart=4.4)


def collapse():
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "circuit-periodic", "generate.py")
    spec = importlib.util.spec_from_file_location("periodic", path)
    periodic = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(periodic)
    return periodic.solve(BEYOND, 3000)


if __name__ == "__main__":
    for row in shape():
        print(row)
    print(collapse())
