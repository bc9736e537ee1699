/** Child limits at 1.7 mL (arithmetic on AAPD figures, DERIVED): grams, micrograms of the maximum, whole cartridges. */
export const VECTORS: Record<
  string,
  { perKg: number; cap: number; milliPercent: number; rows: [number, number, number][] }
> = {
  lidocaine: {
    perKg: 4.4,
    cap: 300,
    milliPercent: 2000,
    rows: [
      [10_000, 44_000, 1],
      [12_000, 52_800, 1],
      [14_000, 61_600, 1],
      [15_000, 66_000, 1],
      [16_000, 70_400, 2],
      [20_000, 88_000, 2],
      [22_500, 99_000, 2],
      [25_000, 110_000, 3],
      [30_000, 132_000, 3],
      [40_000, 176_000, 5],
      [50_000, 220_000, 6],
      [68_000, 299_200, 8],
      [68_200, 300_000, 8],
      [90_000, 300_000, 8],
    ],
  },
  articaine: {
    perKg: 7,
    cap: 500,
    milliPercent: 4000,
    rows: [
      [15_000, 105_000, 1],
      [20_000, 140_000, 2],
      [25_000, 175_000, 2],
      [30_000, 210_000, 3],
      [50_000, 350_000, 5],
      [68_000, 476_000, 7],
      [71_500, 500_000, 7],
    ],
  },
  mepivacaine: {
    perKg: 4.4,
    cap: 300,
    milliPercent: 3000,
    rows: [
      [15_000, 66_000, 1],
      [20_000, 88_000, 1],
      [25_000, 110_000, 2],
      [30_000, 132_000, 2],
      [50_000, 220_000, 4],
      [70_000, 300_000, 5],
    ],
  },
  bupivacaine: {
    perKg: 1.3,
    cap: 90,
    milliPercent: 500,
    rows: [
      [50_000, 65_000, 7],
      [70_000, 90_000, 10],
    ],
  },
}

/** Where a naive floor of doubles is one tenth too low (COMPUTED): mg/kg, milli-percent, cartridge, grams, tenths. */
export const FLOAT_TRAPS: readonly [number, number, number, number, number][] = [
  [7, 4000, 1700, 20_400, 21],
  [7, 4000, 1700, 40_800, 42],
  [7, 4000, 1700, 47_600, 49],
  [6.6, 3000, 1700, 17_000, 22],
  [6.6, 3000, 1700, 34_000, 44],
  [8, 4000, 1800, 11_700, 13],
  [8, 4000, 1800, 18_900, 21],
  [8, 4000, 1800, 23_400, 26],
]
