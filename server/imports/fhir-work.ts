import type { IncomingTooth, IncomingWork } from '#shared/schedule/incoming.ts'
import { parseIso, parseUniversal } from '#shared/teeth/notation.ts'
import type { Surface, Tooth } from '#shared/teeth/tooth.ts'
import type { Resources } from './fhir-resources.ts'
import type { Concept, ConceptOrReference, ResourceOf } from './fhir-schema.ts'
import { isSurface } from './teeth.ts'

export type Request = ResourceOf<'ServiceRequest'> | ResourceOf<'Procedure'>

/** How each coding system of teeth counts. `ex-tooth` is HL7's own list of ISO 3950 designations (READ). */
const TOOTH_SYSTEMS = new Map<
  string,
  { notation: 'iso' | 'universal'; parse: (code: string) => Tooth | null }
>([
  ['http://terminology.hl7.org/CodeSystem/ex-tooth', { notation: 'iso', parse: parseIso }],
  ['urn:iso:std:iso:3950', { notation: 'iso', parse: parseIso }],
  [
    'http://terminology.hl7.org/CodeSystem/ADAUniversalToothDesignationSystem',
    { notation: 'universal', parse: parseUniversal },
  ],
  ['http://www.ada.org/universal', { notation: 'universal', parse: parseUniversal }],
  [
    'http://terminology.hl7.org/CodeSystem/v3-Dentition',
    { notation: 'universal', parse: (code) => parseUniversal(code.replace(/^TID/, '')) },
  ],
])
const SURFACE_SYSTEM = 'http://terminology.hl7.org/CodeSystem/FDI-surface'
/** HL7's V is the surface that faces the lips (READ); ours is B for both cheek and lips. */
const surfacesOfCode = (code: string): Surface[] => code.replace('V', 'B').split('').filter(isSurface)

export const wordsOf = (concept: Concept | undefined): string =>
  concept?.text?.trim() ||
  (concept?.coding ?? []).map(({ display, code }) => display ?? code ?? '').find((text) => text !== '') ||
  ''
/** R5 wraps the concept, R4 does not. */
export const conceptOf = (value: ConceptOrReference | undefined): Concept | undefined =>
  value?.concept ?? value

/** A request or planned procedure as a line of work: its words, coded teeth and surfaces. */
export function workOf(request: Request, resources: Resources): IncomingWork {
  const sites = [...(request.bodySite ?? []), ...structuresOf(request, resources)]
  const teeth = sites.flatMap(codedTeeth)
  const words = [
    wordsOf(conceptOf(request.code)),
    ...sites.filter((site) => codedTeeth(site).length === 0 && !isSurfaceOnly(site)).map(wordsOf),
  ]
  return {
    text:
      [...new Set(words.filter((text) => text !== ''))].join(' ') || teeth.map(({ text }) => text).join(' '),
    teeth,
    surfaces: [...new Set(sites.flatMap(codedSurfaces))],
  }
}

const codedTeeth = (site: Concept): IncomingTooth[] => {
  const found = (site.coding ?? []).flatMap(({ system = '', code = '', display }) => {
    const known = TOOTH_SYSTEMS.get(system)
    const tooth = known?.parse(code) ?? null
    return known && tooth ? [{ text: display ?? code, notation: known.notation, candidates: [tooth] }] : []
  })
  return found.slice(0, 1)
}
const codedSurfaces = (site: Concept): Surface[] =>
  (site.coding ?? []).flatMap(({ system, code }) =>
    system === SURFACE_SYSTEM ? surfacesOfCode(code ?? '') : [],
  )
const isSurfaceOnly = (site: Concept): boolean =>
  codedSurfaces(site).length > 0 && (site.coding ?? []).every(({ system }) => system === SURFACE_SYSTEM)

/** The tooth in a BodyStructure, contained or beside, through HL7's bodySite extension or R5's bodyStructure. */
function structuresOf(request: Request, resources: Resources): Concept[] {
  const references = [
    request.bodyStructure,
    ...(request.extension ?? [])
      .filter(({ url }) => url === 'http://hl7.org/fhir/StructureDefinition/bodySite')
      .map(({ valueReference }) => valueReference),
  ]
  return references.flatMap((reference) => {
    const structure = resources.find(reference, 'BodyStructure')
    return [
      structure?.location ?? [],
      ...(structure?.includedStructure ?? []).map((part) => part.structure),
    ].flat()
  })
}
