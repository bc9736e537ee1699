/** A law is tried the whole number of times once, and a share of that in each further zone. */
const SHARE = Number(process.env.WEIRBOARD_SHARE ?? 1)
export const runs = (whole: number): number => Math.ceil(whole * SHARE)

/** For a title: `2,000`. */
export const said = (count: number): string => count.toLocaleString('en')

/** Noon of 15 January 2026 by each zone's clock: without summer time in the north, with it in the south (COMMON). */
export const NOON: Record<string, string> = {
  UTC: '2026-01-15T12:00:00.000Z',
  'America/New_York': '2026-01-15T17:00:00.000Z',
  'Asia/Tokyo': '2026-01-15T03:00:00.000Z',
  'Australia/Lord_Howe': '2026-01-15T01:00:00.000Z',
}
