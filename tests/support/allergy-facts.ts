import type { Allergy, AllergyRecord } from '#shared/allergies/allergy-record.ts'
import { emptyRecord } from '#shared/allergies/record.ts'
import type { AllergySight } from '#shared/allergies/sight.ts'
import type { Day } from '#shared/base/moment.ts'
import type { Facts } from '#shared/facts.ts'
import { KIT_LINES } from '#shared/trays/kits.ts'
import { summaryOf } from '#shared/trays/summary.ts'
import type { Contents, KitKey, Tray } from '#shared/trays/tray.ts'
import { at, bareClinic, CLINIC, nextId, PEOPLE, TODAY } from './tray-clinic.ts'

export const PATIENT: Facts['patient']['id'] = nextId()

export const askedOn = (day: string) => ({
  by: PEOPLE.ana.id,
  at: at('08:00'),
  day: day as Day,
})
export const askedToday = askedOn(TODAY)

export const record = (more: Partial<AllergyRecord> = {}): AllergyRecord => ({
  ...emptyRecord(CLINIC, nextId(), PATIENT),
  ...more,
})
export const allergy = (substance: string, more: Partial<Allergy> = {}): Allergy => ({
  substance,
  certainty: 'confirmed',
  severity: 'unknown',
  criticality: null,
  text: substance,
  code: null,
  recorded: { by: null, at: at('08:00'), source: 'asked' },
  ...more,
})
export const said = (...texts: string[]): AllergyRecord['statements'] =>
  texts.map((text) => ({ text, source: 'form', at: at('08:00') }))

/** A tray whose lines contain what is said of each, by name. */
export const trayOfLines = (lines: Record<string, Contents>): Pick<Tray, 'contains'> =>
  summaryOf(
    Object.entries(lines).map(([name, contents], position) => ({
      clinicId: CLINIC,
      id: nextId(),
      trayId: nextId(),
      position,
      item: name,
      name,
      count: 1,
      class: 'single-use' as const,
      packKind: null,
      contents,
      countedBack: false,
      packId: null,
      stockLineId: null,
      tick: null,
      fault: null,
      swapped: null,
      omitted: null,
    })),
  )

/** A tray of whole kits as they come. */
export const trayOfKits = (...keys: KitKey[]): Pick<Tray, 'contains'> =>
  trayOfLines(
    Object.fromEntries(keys.flatMap((key) => KIT_LINES[key].lines.map((line) => [line.name, line.contents]))),
  )

export const NON_LATEX = trayOfLines({
  'non-latex sheet': { latex: 'free' },
  'nitrile gloves': { latex: 'free' },
})
export const LATEX_TRAY = trayOfLines({
  'latex sheet': { latex: 'contains' },
  'nitrile gloves': { latex: 'free' },
})

export const sight = (more: Partial<AllergySight> = {}): AllergySight => ({
  record: null,
  patient: { id: PATIENT, history: [] },
  tray: NON_LATEX,
  stage: 'arrived',
  policy: bareClinic().policySet[0] ?? null,
  today: TODAY,
  ...more,
})
