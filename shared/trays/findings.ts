import type { FindingOf } from '../base/rule.ts'

export type TrayFinding = FindingOf<'tray/unowned', 'ask'>
