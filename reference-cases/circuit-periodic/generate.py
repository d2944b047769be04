"""Independent rows for the periodic steady state of the switched link circuit.

Other method than src: an adaptive Runge-Kutta integration (scipy DOP853) from rest through several hundred periods, the rectifier
as an ideal switch with events, no exponentials, no shooting. Averages by summing extra states (integrals) in the same integration.
Run: python3 generate.py > rows.json (about ten minutes).
"""
import json, math, sys
import numpy as np
from scipy.integrate import solve_ivp

BASE = dict(bridge="full", L1=6.3e-6, C1=4e-7, R1=0.08, Ron=0.02, RC1=0.01, L2=14e-6, Cs=1.2e-7, R2=0.3, RCs=0.02,
            Cd=1.8e-9, Vd0=0.03, Rd=0.06, Vin=5, k=0.4, f=150e3, duty=1, Idc=0.5, Crect=2e-5)
HALF = dict(BASE, bridge="half", L1=24e-6, C1=1e-7, R1=0.12, Ron=0.05, Vd0=0.35, Rd=0.05, L2=15e-6, Cs=1.5e-7)
ROWS = {
    "no parallel capacitor": [
        ("N1", dict(BASE, Cd=0)),
        ("N2 light load", dict(BASE, Cd=0, Idc=0.03, Vin=9, k=0.35, f=190e3)),
        ("N3 half bridge", dict(HALF, Cd=0, Vin=12, k=0.4, f=150e3, duty=0.5, Idc=0.25)),
        ("N4 half bridge, low duty", dict(HALF, Cd=0, Vin=19, k=0.5, f=160e3, duty=0.2, Idc=0.2)),
        ("N5 full bridge, low duty", dict(BASE, Cd=0, Vin=12, k=0.5, f=175e3, duty=0.35, Idc=0.3)),
    ],
    "parallel capacitor": [
        ("P1 high coupling", dict(BASE, k=0.85, f=140e3, Idc=0.7)),
        ("P2 low coupling", dict(BASE, k=0.06, f=112e3, Idc=0.08)),
        ("P3 half bridge, low duty, light load", dict(HALF, Vin=15, k=0.45, f=150e3, duty=0.3, Idc=0.05)),
        ("P4 large parallel capacitor, diodes", dict(BASE, Cd=1.2e-8, Vd0=0.5, Rd=0.2, Vin=9, k=0.35, f=140e3, Idc=0.6)),
        ("P5 small reservoir", dict(BASE, Crect=2e-6, k=0.3, f=128e3, Idc=0.8)),
    ],
}


def solve(c, periods):
    n = 2 if c["bridge"] == "full" else 1
    L1, L2 = c["L1"], c["L2"]
    M = c["k"] * math.sqrt(L1 * L2)
    det = L1 * L2 - M * M
    R1 = c["R1"] + n * c["Ron"] + c["RC1"]
    R2 = c["R2"] + c["RCs"]
    V0, Rd, Cd, T = 2 * c["Vd0"], 2 * c["Rd"], c["Cd"], 1 / c["f"]
    if c["bridge"] == "full":
        seg = [(c["Vin"], c["duty"] * T / 2), (0.0, (1 - c["duty"]) * T / 2), (-c["Vin"], c["duty"] * T / 2), (0.0, (1 - c["duty"]) * T / 2)]
    else:
        seg = [(c["Vin"], c["duty"] * T), (0.0, (1 - c["duty"]) * T)]
    seg = [s for s in seg if s[1] > 0]

    # y: i1 vc1 i2 vcs vcd vr | integrals: v1*i1, i1^2, i2^2, vr
    def rhs(v1, mode):
        def f(t, y):
            i1, vc1, i2, vcs, vcd, vr = y[:6]
            e1 = v1 - R1 * i1 - vc1
            d = np.zeros(10)
            if Cd > 0:
                i_d = mode * (mode * vcd - vr - V0) / Rd if mode else 0.0
                e2 = -R2 * i2 - vcs - vcd
                d[0] = (L2 * e1 + M * e2) / det
                d[2] = (M * e1 + L1 * e2) / det
                d[4] = (i2 - i_d) / Cd
            elif mode:
                i_d = i2
                e2 = -(R2 + Rd) * i2 - vcs - mode * (vr + V0)
                d[0] = (L2 * e1 + M * e2) / det
                d[2] = (M * e1 + L1 * e2) / det
            else:
                i_d = 0.0
                d[0] = e1 / L1
            d[1] = i1 / c["C1"]
            d[3] = i2 / c["Cs"] if (mode or Cd > 0) else 0.0
            d[5] = (abs(i_d) - c["Idc"]) / c["Crect"]
            d[6], d[7], d[8], d[9] = v1 * i1, i1 * i1, i2 * i2, vr
            return d
        return f

    def voc(v1, y):
        return M / L1 * (v1 - R1 * y[0] - y[1]) - y[3] if Cd == 0 else y[4]

    def mode_of(v1, y):
        if Cd == 0 and abs(y[2]) > 1e-12:
            return 1 if y[2] > 0 else -1
        u = voc(v1, y)
        return 0 if abs(u) <= y[5] + V0 else (1 if u > 0 else -1)

    peaks = np.zeros(2)

    def run(y, record):
        for v1, dur in seg:
            t, mode = 0.0, mode_of(v1, y)
            while t < dur * (1 - 1e-12):
                if mode == 0:
                    ev = lambda t, y: y[5] + V0 - abs(voc(v1, y))
                elif Cd == 0:
                    ev = lambda t, y, m=mode: m * y[2]
                else:
                    ev = lambda t, y, m=mode: m * y[4] - y[5] - V0
                ev.terminal, ev.direction = True, -1
                stiff = mode != 0 and Cd > 0
                s = solve_ivp(rhs(v1, mode), (t, dur), y, method="Radau" if stiff else "DOP853", events=ev,
                              rtol=1e-8 if stiff else 1e-9, atol=1e-11, max_step=T / 150)
                if record:
                    peaks[0] = max(peaks[0], np.abs(s.y[1]).max())
                    peaks[1] = max(peaks[1], np.abs(s.y[3]).max())
                y, t = s.y[:, -1].copy(), s.t[-1]
                if s.status == 1:
                    if mode and Cd == 0:
                        y[2] = 0.0
                        u = voc(v1, y)
                        mode = 0 if abs(u) <= y[5] + V0 else (1 if u > 0 else -1)
                    elif mode:
                        mode = 0
                    else:
                        mode = 1 if voc(v1, y) > 0 else -1
        return y

    y = np.zeros(10)
    y[5] = c.get("Vstart", 6.0)
    if c["bridge"] == "half":
        y[1] = c["duty"] * c["Vin"]
    change = 1.0
    for p in range(periods):
        y0 = y[:6].copy()
        y[6:] = 0
        y = run(y, False)
        change = np.max(np.abs(y[:6] - y0) / np.array([1, 5, 1, 5, 5, 5]))
        if change < 2e-8:
            break
        if y[5] < 0:
            raise RuntimeError("collapsed")
    y[6:] = 0
    y = run(y, True)
    return dict(Vr=y[9] / T, Iin=y[6] / T / c["Vin"], I1rms=math.sqrt(y[7] / T), I2rms=math.sqrt(y[8] / T),
                VC1pk=peaks[0], VCspk=peaks[1]), change


if __name__ == "__main__":
    out = {}
    only = sys.argv[1:]
    for region, rows in ROWS.items():
        out[region] = []
        for name, c in rows:
            if only and name.split()[0] not in only:
                continue
            try:
                r, change = solve(c, 3000)
            except RuntimeError as e:
                print(name, e, file=sys.stderr)
                continue
            print(name, r, "change per period %.1e" % change, file=sys.stderr)
            out[region].append(dict(id=name, inputs=c, expected=r, changePerPeriod=change))
    json.dump(out, sys.stdout, indent=1)
