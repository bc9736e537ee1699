import { describe, expect, test } from 'vitest'
import { CATALOGUE, isAlternativeAllowed, needOf } from '#shared/procedures/catalogue.ts'
import { fieldClassOf } from '#shared/procedures/field-class.ts'
import { PROCEDURE_KINDS, type ProcedureKind } from '#shared/procedures/work.ts'
import type { Surface, Tooth } from '#shared/teeth/tooth.ts'

describe('need of isolation, each with the work that says so', () => {
  test.each<[ProcedureKind, Tooth, string, string]>([
    ['root-canal', '46', 'required', 'AAE position via ADA News 2015 (READ)'],
    ['retreatment', '46', 'required', 'AAE position via ADA News 2015 (READ)'],
    ['pulp-cap', '46', 'required', 'Patel & Hamer, BDJ 2021 (READ)'],
    ['pulpotomy', '46', 'required', 'Patel & Hamer, BDJ 2021 (READ)'],
    ['pulpotomy', '85', 'strongly-advised', 'AAPD 2020 (MEMORY)'],
    ['pulpectomy', '85', 'strongly-advised', 'AAPD 2020 (MEMORY)'],
    ['post-and-core', '12', 'strongly-advised', 'Goldfein, J Endod 2013 (READ)'],
    ['deep-caries', '46', 'strongly-advised', 'Sturdevant (READ)'],
    ['direct-composite', '46', 'strongly-advised', 'Patel & Hamer, BDJ 2021 (READ)'],
    ['cervical-composite', '34', 'preferred', 'Oper Dent 2015;40(6):581 (READ)'],
    ['glass-ionomer', '85', 'optional', 'Braz Oral Res trial (READ)'],
    ['resin-sealant', '46', 'preferred', 'Evid Based Dent 2024 (READ)'],
    ['amalgam-removal', '36', 'strongly-advised', 'Nimmo, J Prosthet Dent 1990 (READ)'],
    ['amalgam-placement', '36', 'preferred', 'teaching article 2020 (READ)'],
    ['direct-gold', '36', 'required', 'gold-foil operators’ sheet (READ)'],
    ['bonded-indirect', '16', 'strongly-advised', 'Romero 2019 (READ)'],
    ['crown-preparation', '26', 'optional', 'JADA slit article (READ)'],
    ['in-office-bleaching', '11', 'barrier', 's41894-018-0021-9 (READ)'],
    ['steel-crown', '74', 'preferred', 'Saltzman (READ)'],
    ['steel-crown-no-preparation', '74', 'not-needed', 'Trials 2016;17:169 (READ)'],
    ['extraction', '46', 'not-needed', 'COMMON'],
    ['exam', '46', 'not-needed', 'COMMON'],
    ['other', '46', 'undetermined', 'COMMON'],
  ])('%s on %s: %s (%s)', (kind, tooth, need) => expect(needOf(kind, [tooth]).value).toBe(need))

  test('what is not named has no need that could be taken for none', () =>
    expect(needOf('undetermined', ['46']).value).toBe('undetermined'))
  test('every kind has a row, and no required one lets another way stand without a reason', () => {
    expect(Object.keys(CATALOGUE).sort()).toEqual([...PROCEDURE_KINDS].sort())
    const required = PROCEDURE_KINDS.filter((kind) => CATALOGUE[kind].need.value === 'required')
    expect(required.filter((kind) => isAlternativeAllowed(kind, ['46']))).toEqual([])
    expect(isAlternativeAllowed('pulpotomy', ['85'])).toBe(true)
  })
})

describe('the class of field', () => {
  test.each<[ProcedureKind, Tooth[], Partial<Record<Tooth, Surface[]>>, string | null]>([
    ['root-canal', ['46'], {}, 'root-canal'],
    ['direct-composite', ['46'], { '46': ['O'] }, 'posterior-small'],
    ['direct-composite', ['46'], { '46': ['M', 'O'] }, 'posterior'],
    ['direct-composite', ['46'], {}, 'posterior'],
    ['direct-composite', ['11'], { '11': ['M'] }, 'anterior'],
    ['direct-composite', ['23'], { '23': ['V'] }, 'cervical'],
    ['cervical-composite', ['34'], {}, 'cervical'],
    ['direct-composite', ['84', '85'], { '84': ['D', 'O'] }, 'primary-minimal'],
    ['pulpotomy', ['85'], {}, 'primary-minimal'],
    ['pulpotomy', ['46'], {}, 'root-canal'],
    ['resin-sealant', ['46'], {}, 'sealant'],
    ['bonded-indirect', ['16'], {}, 'bonded-posterior'],
    ['bonded-indirect', ['11'], {}, 'anterior'],
    ['veneer', ['11'], {}, 'veneer'],
    ['crown-preparation', ['26'], {}, 'crown-preparation'],
    ['in-office-bleaching', ['11'], {}, 'bleaching'],
    ['exam', ['46'], {}, null],
    ['extraction', ['46'], {}, null],
  ])('%s on %j %j: %s', (kind, teeth, surfaces, expected) =>
    expect(fieldClassOf(kind, teeth, surfaces)).toBe(expected),
  )
})
