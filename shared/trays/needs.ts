import type { AllergyRecord } from '../allergies/allergy-record.ts'
import type { Anaesthetic, PlannedDose } from '../anaesthesia/anaesthetic.ts'
import { endsOf, isCordBarred } from '../isolation/ends.ts'
import type { Agreed, AgreedSheet, ClampFamily } from '../isolation/isolation-facts.ts'
import { CATALOGUE } from '../procedures/catalogue.ts'
import type { Work } from '../procedures/work.ts'
import { FAR_END_FLOSS, FAR_END_WEDGE, KIT_LINES } from './kits.ts'
import type { Contents, Kit, KitKey, KitLine } from './tray.ts'

/** What decides which lines a tray needs. `kits` are the clinic's own, already narrowed to this dentist. */
export interface TrayNeeds {
  work: readonly Pick<Work, 'kind'>[]
  agreed: Agreed | null
  /** What is known of latex: the plan holds the far end by it. */
  latex: AllergyRecord['latex']
  anaesthetic: Pick<Anaesthetic, 'intent' | 'planned'> | null
  /** The language an interpreter is needed for; null: none. */
  language: string | null
  kits: ReadonlyMap<KitKey, Kit>
}

const CLAMP_NAMES: Record<ClampFamily, string> = {
  MOLAR_W_ACTIVE: 'winged molar clamp, active jaws',
  MOLAR_W_PASSIVE: 'winged molar clamp, passive jaws',
  MOLAR_WL: 'wingless molar clamp',
  MOLAR_SERR: 'serrated molar clamp',
  MOLAR_EXT: 'extended molar clamp',
  ANT_EXT_ENDO: 'extended anterior clamp',
  PM_W: 'winged premolar clamp',
  PM_WL: 'wingless premolar clamp',
  ANT_DBL: 'double-bow anterior clamp',
  CERV_RETR: 'cervical retractor clamp',
  PRIM_MOLAR: 'primary molar clamp',
  NONMETAL: 'clamp that is not metal',
  GUARD: 'guard clamp',
}

const PLANNED_STATES: readonly Agreed['state'][] = ['planned', 'draft']
const hasSheets = (agreed: Agreed | null): agreed is Agreed =>
  agreed !== null && PLANNED_STATES.includes(agreed.state) && agreed.sheets.length > 0

/** The kits an appointment is laid out from, in the order of the work. Nothing is added that nobody chose. */
export function kitsFor(needs: TrayNeeds): KitKey[] {
  const kinds = needs.work.map((work) => work.kind)
  const undetermined = kinds.length === 0 || kinds.includes('undetermined')
  const listed = kinds.flatMap((kind) => (kind === 'undetermined' ? [] : CATALOGUE[kind].kits))
  const kits = new Set<KitKey>(undetermined ? ['examination', ...listed] : listed)
  isolate(kits, needs.agreed)
  if (undetermined && !kits.has('dam-base')) kits.add('dam-standby')
  numb(kits, needs)
  return [...kits]
}

function isolate(kits: Set<KitKey>, agreed: Agreed | null): void {
  if (hasSheets(agreed)) {
    kits.add('dam-base')
    kits.delete('no-dam-isolation')
    kits.delete('dam-standby')
  }
  if (agreed?.state === 'not-needed') kits.delete('dam-base')
  if (agreed?.state === 'alternative') {
    kits.delete('dam-base')
    kits.add('no-dam-isolation')
  }
}

/** Until the dentist says, an injection is laid out for where this kind of work usually has one. */
function numb(kits: Set<KitKey>, { anaesthetic, work }: TrayNeeds): void {
  const intent = anaesthetic?.intent ?? { kind: 'undecided' }
  const usual = work.some(({ kind }) => kind !== 'undetermined' && CATALOGUE[kind].anaesthesia === 'usual')
  const wanted = intent.kind === 'undecided' ? usual : intent.kind === 'injection' || intent.topicalAtClamp
  if (wanted) kits.add('local-anaesthesia')
}

/** The lines of those kits, each item once, with what the plan and the anaesthetic say of them. */
export function linesFor(needs: TrayNeeds, keys: readonly KitKey[] = kitsFor(needs)): KitLine[] {
  const lines = new Map<string, KitLine>()
  for (const kitLine of keys.flatMap((key) => linesOfKit(needs, key))) {
    for (const made of specify(kitLine, needs)) if (!lines.has(made.item)) lines.set(made.item, made)
  }
  return [...lines.values(), ...signalCard(needs)]
}

/** How to stop is agreed in the patient's own language, also while nobody can interpret a full mouth. */
const signalCard = ({ language }: TrayNeeds): KitLine[] =>
  language === null
    ? []
    : [
        {
          item: 'stop-signal-card',
          name: `stop-signal card, ${language}`,
          count: 1,
          class: 'single-use',
          packKind: null,
          contents: { latex: 'free' },
          countedBack: false,
        },
      ]

const linesOfKit = ({ kits }: TrayNeeds, key: KitKey): readonly KitLine[] =>
  kits.get(key)?.lines ?? KIT_LINES[key].lines

/** A kit's line as this appointment needs it: none, one or several. */
function specify(kitLine: KitLine, needs: TrayNeeds): KitLine[] {
  switch (kitLine.item) {
    case 'sheet':
      return hasSheets(needs.agreed) ? [sheetLine(kitLine, needs.agreed)] : [kitLine]
    case 'clamp':
      return hasSheets(needs.agreed) ? clampLines(kitLine, needs.agreed.sheets) : [kitLine]
    case 'clamp-spare':
      return hasSheets(needs.agreed) ? spareLines(kitLine, needs.agreed.sheets) : [kitLine]
    case 'cord':
      return hasSheets(needs.agreed) ? farEndLines(kitLine, needs.agreed.sheets, needs) : [kitLine]
    case 'needle':
      return needs.anaesthetic?.intent.kind === 'none' ? [] : [kitLine]
    case 'cartridge':
      return cartridgeLines(kitLine, needs.anaesthetic)
    default:
      return [kitLine]
  }
}

/** One sheet for each field and one to spare. A material not chosen is unknown, never taken for latex-free. */
function sheetLine(kitLine: KitLine, agreed: Agreed): KitLine {
  const material = agreed.sheetMaterial
  const latex = material === 'latex' ? 'contains' : material === 'non-latex' ? 'free' : 'unknown'
  const slits = agreed.sheets.some((sheet) => sheet.slit.length > 0) ? ', slit' : ''
  return {
    ...kitLine,
    name: material === null ? 'sheet' : `${material} sheet${slits}`,
    count: agreed.sheets.length + 1,
    contents: { ...kitLine.contents, latex },
  }
}

const metalOf = (contents: Contents, family: ClampFamily): Contents =>
  family === 'NONMETAL' ? { ...contents, nickel: 'free' } : contents

const clampLines = (kitLine: KitLine, sheets: readonly AgreedSheet[]): KitLine[] =>
  sheets
    .flatMap((sheet) => sheet.clamps)
    .map(({ tooth, family }) => ({
      ...kitLine,
      item: `clamp/${tooth}`,
      name: `${CLAMP_NAMES[family]} for ${tooth}`,
      contents: metalOf(kitLine.contents, family),
    }))

/** One spare of each family that will be placed. */
const spareLines = (kitLine: KitLine, sheets: readonly AgreedSheet[]): KitLine[] =>
  [...new Set(sheets.flatMap((sheet) => sheet.clamps.map((clamp) => clamp.family)))].map((family) => ({
    ...kitLine,
    item: `clamp-spare/${family}`,
    name: `spare ${CLAMP_NAMES[family]}`,
    contents: metalOf(kitLine.contents, family),
  }))

/**
 * What the plan holds the far end by: the kit's cord, or floss or a wedge in its place. A field without a loose end
 * leaves the cord in the kit, unless it is barred.
 */
function farEndLines(
  kitLine: KitLine,
  sheets: readonly AgreedSheet[],
  { latex }: Pick<TrayNeeds, 'latex'>,
): KitLine[] {
  const holds = sheets.flatMap((sheet) => endsOf(sheet, latex)).map(({ hold }) => hold)
  const floss = holds.filter((hold) => hold === 'ligature').length
  const wedges = holds.filter((hold) => hold === 'wedge').length
  const isOtherwiseHeld = floss + wedges > 0 && !holds.includes('cord')
  return [
    ...(isCordBarred(latex) || isOtherwiseHeld ? [] : [kitLine]),
    ...(floss > 0 ? [{ ...FAR_END_FLOSS, count: floss }] : []),
    ...(wedges > 0 ? [{ ...FAR_END_WEDGE, count: wedges }] : []),
  ]
}

function cartridgeLines(kitLine: KitLine, anaesthetic: TrayNeeds['anaesthetic']): KitLine[] {
  if (anaesthetic?.intent.kind === 'none') return []
  const planned = (anaesthetic?.planned ?? []).filter((dose) => dose.technique !== 'topical')
  return planned.length === 0 ? [kitLine] : groupCartridges(kitLine, planned)
}

function groupCartridges(kitLine: KitLine, planned: readonly PlannedDose[]): KitLine[] {
  const tenths = new Map<string, { dose: PlannedDose; tenths: number }>()
  for (const dose of planned) {
    const name = nameSolution(dose)
    tenths.set(name, { dose, tenths: (tenths.get(name)?.tenths ?? 0) + dose.tenthsOfCartridge })
  }
  return [...tenths].map(([name, { dose, tenths: all }]) => ({
    ...kitLine,
    item: `cartridge/${name}`,
    name: `cartridge ${name}`,
    count: Math.ceil(all / 10),
    contents: { ...kitLine.contents, ...contentsOfSolution(dose) },
  }))
}

const nameSolution = ({ agent, milliPercent, vasoconstrictor, ratio }: PlannedDose): string =>
  `${agent} ${milliPercent / 1000} %${vasoconstrictor === 'none' ? '' : ` with ${vasoconstrictor} 1:${ratio}`}`

/** The antioxidant comes with epinephrine and levonordefrin alone (US label, lidocaine and articaine: READ). */
function contentsOfSolution({ vasoconstrictor }: PlannedDose): Contents {
  const sulfite = vasoconstrictor === 'epinephrine' || vasoconstrictor === 'levonordefrin'
  return {
    'amide-anaesthetics': 'contains',
    sulfites: sulfite ? 'contains' : 'free',
    vasoconstrictors: sulfite ? 'contains' : 'free',
  }
}
