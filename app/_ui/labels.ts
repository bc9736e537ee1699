import type { RoomTask } from '#shared/schedule/appointment.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'

/** Words beside controls. Findings are said by `say`; states, planks, gates roles and people by `words/en/states.ts`. */
export const ROOM_TASK_WORDS: Record<RoomTask, string> = {
  barriers: 'Barriers changed',
  'wet-time': 'Wet time over',
  'water-air': 'Water and air flushed',
  suction: 'Suction',
  light: 'Light',
}

export const NOTATION_WORDS: Record<Notation, string> = {
  ask: 'Not agreed: ask each time',
  iso: 'ISO 3950 (11 to 48)',
  universal: 'Universal (1 to 32)',
  palmer: 'By quadrant (UR6)',
}

/** An operatory as it is said: a bare number is not a name. */
export const operatoryWords = (name: string | null | undefined): string =>
  name == null ? 'no operatory yet' : /^\d+$/.test(name) ? `Operatory ${name}` : name
