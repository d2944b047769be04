"""Independent values for disc magnets. Shares no formula with the program: parallel discs by Bessel integrals with
25 digits (mpmath); tilted discs by the energy U = -integral M2 . B1 dV over the volume of the second disc, B1 from a sum of
current loops (ring field with SciPy's K and E), and central differences of U. Run: python3 generate.py > cases.json"""
import json
import numpy as np
from mpmath import mp, mpf, besselj, exp, pi, quad, ceil
from scipy.special import ellipk, ellipe, ellipkm1

mp.dps = 22
MU0 = 4 * pi * mpf(10) ** -7


def bessel(kind, r, z, a, b):
    def f(q):
        base = besselj(1, q * a) * besselj(1, q * b) * exp(-q * z) / q
        return base * besselj(0 if kind == 'axial' else 1, q * r)

    step = pi / (max(a, b) + r / 2)
    ends = [0] + [step * i for i in range(1, int(ceil(48 / z / step)) + 1)]
    return quad(f, ends, maxdegree=4)


def pair(a, h1, b, h2, r, g):
    """pull and restoring force in N for 1 T each; lengths in mm"""
    a, h1, b, h2, r, g = [mpf(str(v)) / 1000 for v in (a, h1, b, h2, r, g)]
    out = []
    for kind in ('axial', 'radial'):
        s = 0
        for top in (0, 1):
            for bottom in (0, 1):
                sign = 1 if top == bottom else -1
                if kind == 'radial' and r == 0:
                    continue
                s += sign * bessel(kind, r, g + top * h2 + bottom * h1, a, b)
        out.append(pi * a * b / MU0 * s)
    return out


def ring(a, rho, z):
    """B_rho, B_z per ampere of a loop of radius a"""
    far = (a + rho) ** 2 + z * z
    near = (a - rho) ** 2 + z * z
    m1 = near / far
    k, e = ellipkm1(m1), ellipe(1 - m1)
    c = 2e-7 / np.sqrt(far)
    bz = c * (k + (a * a - rho * rho - z * z) / near * e)
    br = c * z / rho * (-k + (a * a + rho * rho + z * z) / near * e)
    return br, bz


def rotation(tx, ty, tz):
    cx, sx, cy, sy, cz, sz = np.cos(tx), np.sin(tx), np.cos(ty), np.sin(ty), np.cos(tz), np.sin(tz)
    rx = np.array([[1, 0, 0], [0, cx, -sx], [0, sx, cx]])
    ry = np.array([[cy, 0, sy], [0, 1, 0], [-sy, 0, cy]])
    rz = np.array([[cz, -sz, 0], [sz, cz, 0], [0, 0, 1]])
    return rx @ ry @ rz


def energy(a, h1, b, h2, pos, tilt):
    """metres; lower disc centred at the origin"""
    nz, nr, nt, nl = 20, 24, 72, 40
    xz, wz = np.polynomial.legendre.leggauss(nz)
    xr, wr = np.polynomial.legendre.leggauss(nr)
    xl, wl = np.polynomial.legendre.leggauss(nl)
    rot = rotation(tilt[0], tilt[1], 0)
    th = 2 * np.pi * (np.arange(nt) + 0.5) / nt
    rr = b * (xr + 1) / 2
    zz = h2 / 2 * xz
    R, T, Z = np.meshgrid(rr, th, zz, indexing='ij')
    W = (b / 2 * wr * rr)[:, None, None] * (2 * np.pi / nt) * (h2 / 2 * wz)[None, None, :]
    P = np.stack([R * np.cos(T), R * np.sin(T), Z]).reshape(3, -1)
    Q = rot @ P + np.array(pos)[:, None]
    rho = np.hypot(Q[0], Q[1])
    br = np.zeros_like(rho)
    bz = np.zeros_like(rho)
    for x, w in zip(xl, wl):
        r1, z1 = ring(a, rho, Q[2] - h1 / 2 * x)
        br += w * h1 / 2 / 4e-7 / np.pi * r1
        bz += w * h1 / 2 / 4e-7 / np.pi * z1
    n = rot @ np.array([0, 0, 1.0])
    dot = br * (Q[0] * n[0] + Q[1] * n[1]) / rho + bz * n[2]
    return -np.sum(dot * (W * np.ones_like(R)).reshape(-1)) / (4e-7 * np.pi)


def wrench(a, h1, b, h2, pos, tilt):
    """force N and torque component about the tilt axes by eighth-order differences of U"""
    c = [4 / 5, -1 / 5, 4 / 105, -1 / 280]
    out = []
    for k in range(3):
        s = 0
        for i, ck in enumerate(c):
            d = np.zeros(3)
            d[k] = (i + 1) * 1e-4
            s -= ck * (energy(a, h1, b, h2, np.array(pos) + d, tilt) - energy(a, h1, b, h2, np.array(pos) - d, tilt)) / 1e-4
        out.append(s)
    return out


def main():
    parallel = []
    for a, h1, b, h2, r, g in [
        (5, 2, 5, 2, 0, 0.5), (5, 2, 4, 3, 3, 3), (5, 2, 4, 3, 8, 1), (6, 1, 6, 1, 6, 2), (4, 10, 4, 0.5, 1.5, 1),
        (10, 2, 3, 5, 7, 2.5), (10, 2, 3, 5, 14, 1), (7.5, 3, 7.5, 3, 20, 4), (5, 5, 5, 5, 10, 0.8), (3, 1, 2.9, 1, 0.5, 1.2),
        (8, 0.2, 8, 0.2, 2, 5), (2, 20, 2, 20, 1, 2),
    ]:
        pull, back = pair(a, h1, b, h2, r, g)
        parallel.append({'id': f'R{a}h{h1}-R{b}h{h2}-x{r}-g{g}',
                         'inputs': {'lowerRadiusMm': a, 'lowerThicknessMm': h1, 'upperRadiusMm': b, 'upperThicknessMm': h2,
                                    'offsetMm': r, 'gapMm': g},
                         'expected': {'pullN': mp.nstr(pull, 16), 'restoringN': mp.nstr(back, 16)}})
    tilted = []
    for a, h1, b, h2, pos, tilt in [
        (5, 2, 5, 2, (0, 0, 5), (0.1, 0)), (5, 2, 4, 3, (2, -1, 6), (0.2, -0.15)), (6, 3, 6, 3, (5, 3, 7), (0, 0.3)),
        (4, 1, 7, 2, (-3, 2, 5), (-0.25, 0.1)),
    ]:
        f = wrench(a * 1e-3, h1 * 1e-3, b * 1e-3, h2 * 1e-3, np.array(pos) * 1e-3, tilt)
        tilted.append({'id': f'R{a}-R{b}-at{pos}-tilt{tilt}'.replace(' ', ''),
                       'inputs': {'lowerRadiusMm': a, 'lowerThicknessMm': h1, 'upperRadiusMm': b, 'upperThicknessMm': h2,
                                  'xMm': pos[0], 'yMm': pos[1], 'zMm': pos[2], 'tiltXRad': tilt[0], 'tiltYRad': tilt[1]},
                       'expected': {'fxN': float(f[0]), 'fyN': float(f[1]), 'fzN': float(f[2])}})
    published = json.load(open('published-topic-7.json'))
    lengths = [{'name': n, 'unit': 'mm'} for n in ('lowerRadiusMm', 'lowerThicknessMm', 'upperRadiusMm', 'upperThicknessMm', 'offsetMm', 'gapMm')]
    generator = {'script': 'generate.py', 'tool': 'mpmath, SciPy', 'version': 'mpmath 1.3, SciPy 1.x', 'digits': 16, 'seed': None}
    sets = [
        published,
        {'id': 'disc-pairs-parallel', 'quantity': 'force between parallel disc magnets', 'unit': 'N', 'inputs': lengths,
         'conventions': 'both discs 1 T along +z; pull and restoring force on the upper disc; mu0 = 4e-7 pi',
         'source': {'kind': 'independent-code', 'citation': 'Bessel integral form of Vokoun, Beleggia, Heller, Sittner, J. Magn. Magn. Mater. 321 (2009) 3758, integrated here with 22 digits',
                    'locator': 'generate.py', 'seen': 'formula from memory', 'valueOrigin': 'independent code'},
         'generator': generator,
         'regions': [{'name': 'gap of a tenth of a radius and more', 'tolerance': {'rel': 1e-10, 'abs': 1e-12, 'why': 'measured agreement 1e-12 to 1e-13; one decade for other processors'}, 'rows': parallel}]},
        {'id': 'disc-pairs-tilted', 'quantity': 'force between tilted disc magnets', 'unit': 'N',
         'inputs': lengths[:4] + [{'name': n, 'unit': 'mm'} for n in ('xMm', 'yMm', 'zMm')] + [{'name': n, 'unit': 'rad'} for n in ('tiltXRad', 'tiltYRad')],
         'conventions': 'both discs 1 T along their own +z; lower disc centred at the origin; upper turned by Rx(tiltX) Ry(tiltY) and moved to x y z; force on the upper',
         'source': {'kind': 'independent-code', 'citation': 'energy of a rigid magnet in the field of another, volume quadrature, eighth-order differences', 'locator': 'generate.py', 'seen': 'textbook', 'valueOrigin': 'independent code'},
         'generator': generator,
         'regions': [{'name': 'clear of each other by a tenth of a radius', 'tolerance': {'rel': 1e-6, 'abs': 1e-7, 'why': 'the reference itself: differences of a volume quadrature, about 1e-8'}, 'rows': tilted}]},
    ]
    json.dump(sets, open('cases.json', 'w'), indent=1)


main()
