/** Vacuum permeability used throughout, H/m. The conventional 4e-7 pi; CODATA 2018 differs by 5.5e-10 relative. */
export const MU0 = 4e-7 * Math.PI;

/** Resistivity of annealed copper at 20 C, ohm m: 1/58 MS/m, IEC 60028 (International Annealed Copper Standard, 1913). */
export const COPPER_RESISTIVITY_20C = 1 / 58e6;

/** Temperature coefficient of copper resistance at 20 C, 1/K. IEC 60028. */
export const COPPER_TEMPERATURE_COEFFICIENT = 3.93e-3;
