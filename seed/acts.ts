import { DEMO_DAY, DEMO_START } from './clinic.ts'
import { momentOf, type Step } from './telling.ts'

export const DEMO_MOMENT = momentOf(DEMO_DAY, DEMO_START)
export const DAY: readonly Step[] = []
