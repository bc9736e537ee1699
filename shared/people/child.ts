/** Full years below which others answer for somebody. (COMMON: the usual age of majority; local law comes first.) */
export const CHILD_BELOW = 18

/** Whether others answer for somebody of this age in full years. An age that nobody knows is not a grown-up's. */
export const childhoodOf = (ageYears: number | null): 'child' | 'grown' | 'unknown' => {
  if (ageYears === null) return 'unknown'
  return ageYears < CHILD_BELOW ? 'child' : 'grown'
}
