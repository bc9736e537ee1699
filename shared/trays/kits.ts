import type { Substance } from '../allergies/substance.ts'
import type { ClinicId, KitId } from '../ids.ts'
import type { PackKind } from '../sterility/sterility-facts.ts'
import { type Contents, KIT_KEYS, type Kit, type KitKey, type KitLine } from './tray.ts'

/**
 * The lists that trays start from. Generic supply lists: dam base READ (union of a gold-foil set-out, assisting
 * cards, NES and a teaching module), bleaching READ, amalgam removal READ in part (suction, spray, mask: Nimmo),
 * the rest COMMON. A clinic edits its own. Every line says of latex `free`, `contains` or `unknown`.
 */
type Known = Partial<Record<Substance, Contents[string]>>
type Options = { count?: number; packKind?: PackKind; countedBack?: true; known?: Known }

const line = (
  kind: KitLine['class'],
  item: string,
  name: string,
  { count = 1, packKind, countedBack, known = {} }: Options = {},
): KitLine => ({
  item,
  name,
  count,
  class: kind,
  packKind: packKind ?? null,
  contents: { latex: 'free', ...known },
  countedBack: countedBack ?? false,
})
const single = (item: string, name: string, options?: Options) => line('single-use', item, name, options)
const material = (item: string, name: string, options?: Options) => line('material', item, name, options)
const set = (packKind: PackKind, name: string, options?: Options) =>
  line('reusable-set', packKind, name, { ...options, packKind })

const STEEL: Known = { nickel: 'contains' }
const RESIN: Known = { methacrylates: 'contains' }
const gloves = single('gloves', 'nitrile gloves', { known: { 'rubber-chemicals': 'unknown' } })
const etchant = material('etchant', 'etchant')
const bond = material('bonding-agent', 'bonding agent', { known: RESIN })
const floss = single('floss', 'waxed floss ligature', {
  count: 2,
  countedBack: true,
  known: { flavours: 'unknown' },
})
const occlusion = single('occlusion-paper', 'occlusion paper')
const irrigant = material('irrigant', 'sodium hypochlorite', { known: { hypochlorite: 'contains' } })
const suction = single('suction-tip', 'suction tip')

/** What takes the cord's place at the far end; the floss comes from the same lots as the other. */
export const FAR_END_FLOSS: KitLine = { ...floss, item: 'floss/far-end', name: 'waxed floss for the far end' }
export const FAR_END_WEDGE: KitLine = single('wedge', 'wooden wedge for the far end', { countedBack: true })

export const KIT_LINES: Record<KitKey, { name: string; lines: readonly KitLine[] }> = {
  examination: { name: 'examination', lines: [set('examination-set', 'examination set'), gloves, suction] },
  'dam-base': {
    name: 'dam base',
    lines: [
      // One sheet per field and one spare; material and clamps come from the plan.
      single('sheet', 'sheet', { count: 2, countedBack: true, known: { 'rubber-chemicals': 'unknown' } }),
      set('dam-set', 'dam set: punch, forceps, frame', { known: STEEL }),
      line('reusable-set', 'clamp', 'clamp', { countedBack: true, known: STEEL }),
      line('reusable-set', 'clamp-spare', 'spare clamp', { countedBack: true, known: STEEL }),
      floss,
      single('cord', 'stabilising cord, made without latex'),
      single('napkin', 'dam napkin'),
      material('lubricant', 'water-soluble lubricant'),
      material('lip-cream', 'lip cream', { known: { 'lip-care': 'unknown' } }),
      single('eye-protection', 'eye protection for the patient'),
      gloves,
    ],
  },
  'direct-composite': {
    name: 'direct composite',
    lines: [
      set('composite-set', 'composite set', { known: STEEL }),
      etchant,
      bond,
      material('composite', 'composite', { known: RESIN }),
      single('matrix', 'matrix and wedge', { known: STEEL }),
      single('polishing', 'finishing discs and strips'),
      occlusion,
      gloves,
    ],
  },
  sealant: {
    name: 'sealant',
    lines: [
      single('prophy-brush', 'cleaning brush'),
      etchant,
      material('sealant', 'sealant', { known: RESIN }),
      occlusion,
      gloves,
      suction,
    ],
  },
  'root-canal': {
    name: 'root canal',
    lines: [
      set('endodontic-set', 'endodontic set', { known: STEEL }),
      single('files', 'files with stops', {
        count: 6,
        countedBack: true,
        known: { nickel: 'contains', latex: 'unknown' },
      }),
      single('irrigation-needle', 'side-vented needle', { countedBack: true }),
      irrigant,
      material('chelator', 'chelator'),
      single('paper-points', 'paper points'),
      material('gutta-percha', 'gutta-percha points', { known: { latex: 'unknown' } }),
      material('canal-sealer', 'canal sealer', { known: { formaldehyde: 'unknown', eugenol: 'unknown' } }),
      material('temporary', 'temporary filling'),
      material('caulk', 'dam caulk', { known: { methacrylates: 'unknown' } }),
      gloves,
    ],
  },
  pulpotomy: {
    name: 'pulpotomy',
    lines: [
      set('pulpotomy-set', 'pulpotomy set', { known: STEEL }),
      single('pellets', 'cotton pellets', { count: 4, countedBack: true }),
      material('haemostatic', 'ferric sulfate'),
      material('pulp-dressing', 'calcium silicate dressing'),
      single('steel-crowns', 'preformed crowns', { known: STEEL }),
      material('crown-cement', 'glass ionomer cement', { known: { methacrylates: 'unknown' } }),
      gloves,
    ],
  },
  'bonded-indirect': {
    name: 'bonded indirect',
    lines: [
      set('composite-set', 'bonding set', { known: STEEL }),
      single('restoration', 'the restoration, tried in'),
      material('try-in-paste', 'try-in paste'),
      material('ceramic-primer', 'ceramic etch and primer', { known: { methacrylates: 'unknown' } }),
      etchant,
      bond,
      material('resin-cement', 'resin cement', { known: RESIN }),
      single('tape', 'tape to shield neighbours'),
      material('glycerine', 'glycerine gel'),
      single('polishing', 'finishing discs and strips'),
      gloves,
    ],
  },
  'amalgam-removal': {
    name: 'amalgam removal',
    lines: [
      single('wide-suction', 'high-volume suction tip'),
      single('new-bur', 'new bur', { countedBack: true }),
      single('filter-mask', 'filter masks', { count: 2 }),
      gloves,
    ],
  },
  bleaching: {
    name: 'bleaching',
    lines: [
      single('retractor', 'lip retractor'),
      material('gum-barrier', 'light-cured gum barrier', { known: RESIN }),
      single('eye-protection', 'eye protection for the patient'),
      single('gauze', 'gauze'),
      material('bleach-gel', 'bleaching gel'),
      material('desensitiser', 'desensitiser', { known: { methacrylates: 'unknown' } }),
      gloves,
    ],
  },
  'local-anaesthesia': {
    name: 'local anaesthesia',
    lines: [
      material('topical', 'topical gel', {
        known: { 'ester-anaesthetics': 'unknown', 'amide-anaesthetics': 'unknown', flavours: 'unknown' },
      }),
      single('needle', 'needle', { countedBack: true }),
      material('cartridge', 'anaesthetic cartridge', {
        known: {
          latex: 'unknown',
          'amide-anaesthetics': 'contains',
          sulfites: 'unknown',
          vasoconstrictors: 'unknown',
        },
      }),
    ],
  },
  'no-dam-isolation': {
    name: 'isolation without a dam',
    lines: [
      single('rolls', 'cotton rolls', { count: 6, countedBack: true }),
      single('triangles', 'absorbent triangles', { count: 2, countedBack: true }),
      single('retractor', 'lip retractor'),
      single('bite-prop', 'silicone bite prop'),
      single('gauze', 'gauze'),
      suction,
      gloves,
    ],
  },
  'dam-standby': {
    name: 'dam kit on standby',
    lines: [set('dam-set', 'dam set, sealed, on standby', { known: STEEL })],
  },
}

/** Labels a clinic has read, by item: what its own stock says of a substance. */
export type LabelsRead = Partial<Record<string, Known>>

/** The twelve kits as facts of a clinic, with what it has read off its own labels. */
export const makeKits = (clinicId: ClinicId, newId: () => KitId, labels: LabelsRead = {}): Kit[] =>
  KIT_KEYS.map((key) => ({
    clinicId,
    id: newId(),
    key,
    name: KIT_LINES[key].name,
    dentistId: null,
    lines: KIT_LINES[key].lines.map((kitLine) => ({
      ...kitLine,
      contents: { ...kitLine.contents, ...labels[kitLine.item] },
    })),
  }))
