import type { Sentences } from '../../base/rule.ts'
import type { SterilityFinding } from '../../sterility/findings.ts'

export const STERILITY_SENTENCES: Sentences<SterilityFinding> = {
  'pack/not-released': { says: () => 'The load of this pack is not released.', desk: null },
}
