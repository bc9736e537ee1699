import { CATALOGUE } from '#shared/procedures/catalogue.ts'
import type { BoardLine } from '#shared/readiness/board-types.ts'
import type { Surface } from '#shared/teeth/tooth.ts'

type Work = Pick<BoardLine['work'][number], 'kind' | 'text' | 'surfaces'>

/** `Composite MO`; the booking's own words in quotation marks where nobody could tell what they mean. */
export function workWords({ kind, text, surfaces }: Work): string {
  if (kind === 'undetermined') return `“${text}”`
  return [capital(CATALOGUE[kind].name), surfacesOf(surfaces)].filter(Boolean).join(' ')
}

/** The surfaces where all teeth of the work share them, in the trade's letters; nothing otherwise. */
function surfacesOf(surfaces: Work['surfaces']): string {
  const each = [...new Set(Object.values(surfaces).map((list: Surface[]) => list.join('')))]
  return each.length === 1 ? (each[0] ?? '') : ''
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)
