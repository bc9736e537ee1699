import type { Sentences } from '../../base/rule.ts'
import type { TrayFinding } from '../../trays/findings.ts'

export const TRAY_SENTENCES: Sentences<TrayFinding> = {
  'tray/unowned': { says: () => 'Nobody has this tray.', desk: null },
}
