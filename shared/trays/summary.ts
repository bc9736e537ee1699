import { SUBSTANCES } from '../allergies/substance.ts'
import type { Tray, TrayLine } from './tray.ts'

/** A line counts when it was left out with a reason, or is there, sound, and from a named pack where it is a set. */
export const isAccountedFor = (line: TrayLine): boolean =>
  line.omitted !== null ||
  (line.tick !== null && line.fault === null && (line.packKind === null || line.packId !== null))

const saysMissing = (line: TrayLine): string =>
  `${line.name} ${line.fault === null ? 'missing' : line.fault.why}`

/** What a board needs of a tray's lines. The law: a tray always carries the summary of its own lines. */
export function summaryOf(
  lines: readonly TrayLine[],
): Pick<Tray, 'done' | 'of' | 'firstMissing' | 'contains'> {
  const ordered = [...lines].sort((a, b) => a.position - b.position)
  const missing = ordered.find((line) => !isAccountedFor(line))
  return {
    done: ordered.filter(isAccountedFor).length,
    of: ordered.length,
    firstMissing: missing ? saysMissing(missing) : null,
    contains: ordered.filter((line) => line.omitted === null).flatMap(bearingOf),
  }
}

/** What a line is known, or not known, to contain. A line that says nothing of latex is unknown, never free. */
function bearingOf(line: TrayLine): Tray['contains'] {
  return SUBSTANCES.flatMap((substance) => {
    const certainty = line.contents[substance] ?? (substance === 'latex' ? 'unknown' : 'free')
    return certainty === 'free' ? [] : [{ substance, line: line.name, certainty }]
  })
}

/** The tray with the summary its lines give it. */
export const withSummary = (tray: Tray, lines: readonly TrayLine[]): Tray => ({
  ...tray,
  ...summaryOf(lines),
})
