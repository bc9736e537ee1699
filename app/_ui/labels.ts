import type { Role } from '#shared/people/role.ts'
import type { RoomTask } from '#shared/schedule/appointment.ts'

/** Words beside controls. Findings are said by `say`; states, planks, gates and people by `words/en/states.ts`. */
export const ROLE_WORDS: Record<Role, string> = {
  'front-desk': 'front desk',
  assistant: 'assistant',
  hygienist: 'hygienist',
  dentist: 'dentist',
  'steriliser-lead': 'steriliser lead',
  instructor: 'instructor',
  student: 'student',
  manager: 'manager',
}

export const ROOM_TASK_WORDS: Record<RoomTask, string> = {
  barriers: 'Barriers changed',
  'wet-time': 'Wet time over',
  'water-air': 'Water and air flushed',
  suction: 'Suction',
  light: 'Light',
}
