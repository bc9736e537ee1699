/** The house's sign: four boards between two posts, the last going in. */
export function Planks() {
  return (
    <svg viewBox="0 0 24 24" width="26" height="26" aria-hidden="true">
      <path d="M3 2V22M21 2V22" stroke="var(--soft-ink)" strokeWidth="2.4" />
      <path d="M5.5 20H18.5M5.5 15.4H18.5M5.5 10.8H18.5" stroke="var(--ink)" strokeWidth="3" />
      <path d="M5.5 5.4L18.5 3.4" stroke="var(--water)" strokeWidth="3" />
    </svg>
  )
}
