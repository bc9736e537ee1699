import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { LIMIT_PROFILE_IDS } from '#shared/anaesthesia/anaesthetic.ts'
import type { CheckedDose, DoseAnswer } from '#shared/anaesthesia/dose-question.ts'
import { LIMIT_PROFILES, mostAt } from '#shared/anaesthesia/limits.ts'
import {
  agentGiven,
  agentPerCartridge,
  multiplyDivide,
  vasoconstrictorGiven,
} from '#shared/anaesthesia/solution.ts'
import { grams, gramsOfPounds, microlitres } from '#shared/base/amount.ts'
import { ADULT, ARTICAINE, BUPIVACAINE, check, dose, MEPIVACAINE, PRILOCAINE, solution } from './checks.ts'

describe('laws of the check', () => {
  const agents = fc.constantFrom<Partial<CheckedDose>>({}, ARTICAINE, MEPIVACAINE, BUPIVACAINE, PRILOCAINE)
  const weight = fc.integer({ min: 30_000, max: 150_000 })
  const profile = fc.constantFrom(...LIMIT_PROFILE_IDS)
  const doses = fc
    .array(fc.tuple(agents, fc.integer({ min: 0, max: 40 })), { minLength: 1, maxLength: 4 })
    .map((each) => each.map(([more, tenths]) => dose(tenths, more)))
  /** Agents, strengths, sizes and givers as they come together in a day. */
  const mixtures = fc
    .array(
      fc.tuple(
        agents,
        fc.integer({ min: 0, max: 40 }),
        fc.constantFrom(1700, 1800, 2200),
        fc.constantFrom('one', 'other'),
      ),
      { minLength: 2, maxLength: 6 },
    )
    .map((each) =>
      each.map(([more, tenths, volume, by]) => dose(tenths, { ...more, cartridge: microlitres(volume), by })),
    )

  test('more weight never lowers a maximum', () => {
    fc.assert(
      fc.property(profile, weight, weight, (id, a, b) => {
        for (const row of LIMIT_PROFILES[id]) {
          expect(mostAt(row, grams(Math.min(a, b))).amount).toBeLessThanOrEqual(
            mostAt(row, grams(Math.max(a, b))).amount,
          )
        }
      }),
    )
  })
  test('the count never exceeds the limit, and one tenth more does', () => {
    fc.assert(
      fc.property(profile, weight, agents, (id, heavy, more) => {
        for (const { limit, tenthsOfCartridges } of check([dose(0, more)], {
          ...ADULT,
          profile: id,
          weight: grams(heavy),
        }).perAgent) {
          const per = agentPerCartridge(solution(more))
          expect(BigInt(per) * BigInt(tenthsOfCartridges) <= BigInt(limit) * 10n).toBe(true)
          expect(BigInt(per) * BigInt(tenthsOfCartridges + 1) > BigInt(limit) * 10n).toBe(true)
        }
      }),
    )
  })
  /** All that is said but the counts, which are in cartridges of the size given last. */
  const told = ({ perAgent, findings, ...rest }: DoseAnswer) => ({
    ...rest,
    perAgent: perAgent
      .map(({ agent, limit, used, left, limitedBy, by }) => ({
        agent,
        limit,
        used,
        left,
        limitedBy,
        by: [...by].sort(),
      }))
      .sort((one, other) => one.agent.localeCompare(other.agent)),
    findings: findings.map((each) => `${each.rule} ${each.level} ${each.about}`).sort(),
  })
  const shuffled = (given: CheckedDose[]) => fc.shuffledSubarray(given, { minLength: given.length })
  test('the order of doses does not matter, in any mixture and any profile', () => {
    fc.assert(
      fc.property(
        mixtures.chain((given) => fc.tuple(fc.constant(given), shuffled(given))),
        weight,
        profile,
        fc.constantFrom('lower-of-two' as const, 'fractions' as const),
        ([given, other], heavy, id, combine) => {
          const more = { ...ADULT, profile: id, weight: grams(heavy), combine }
          expect(told(check(other, more))).toEqual(told(check(given, more)))
        },
      ),
    )
  })
  test('who gave it does not matter: shared out among givers it comes to the same, and each is named', () => {
    fc.assert(
      fc.property(
        mixtures,
        weight,
        fc.array(fc.nat(2), { minLength: 6, maxLength: 6 }),
        (given, heavy, whose) => {
          const more = { ...ADULT, profile: 'CANADA', weight: grams(heavy) } as const
          const shared = given.map((each, index) => ({ ...each, by: `giver ${whose[index]}` }))
          const alone = check(
            given.map((each) => ({ ...each, by: 'one' })),
            more,
          )
          const answer = check(shared, more)
          expect([answer.result, answer.usedPermille]).toEqual([alone.result, alone.usedPermille])
          for (const { agent, used, by } of answer.perAgent) {
            const theirs = shared.filter((each) => each.agent === agent)
            expect(used).toBe(alone.perAgent.find((row) => row.agent === agent)?.used)
            expect([...by].sort()).toEqual([...new Set(theirs.map((each) => each.by))].sort())
          }
        },
      ),
    )
  })
  test('given in two parts by two people it is never less than given at once', () => {
    fc.assert(
      fc.property(
        agents,
        fc.integer({ min: 0, max: 30 }),
        fc.integer({ min: 0, max: 30 }),
        (more, some, rest) => {
          const parts = [dose(some, { ...more, by: 'one' }), dose(rest, { ...more, by: 'other' })]
          const whole = dose(some + rest, more)
          for (const given of [agentGiven, vasoconstrictorGiven]) {
            expect(parts.reduce((sum, each) => sum + given(each), 0)).toBeGreaterThanOrEqual(given(whole))
          }
        },
      ),
    )
  })
  test('pounds are never taken for more kilograms than they are, nor for a gram less than the floor', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 8000 }), (tenths) => {
        // 1 lb = 453.59237 g exactly (COMMON): in hundred-thousandths of a gram, without a double.
        const exact = (BigInt(tenths) * 45_359_237n) / 10n
        const floored = Number(exact / 100_000n)
        expect(gramsOfPounds(tenths / 10)).toBe(floored)
      }),
    )
  })
  test('more pounds never lower a maximum, and pounds allow no more than the kilograms they are', () => {
    fc.assert(
      fc.property(profile, fc.integer({ min: 66, max: 330 }), agents, (id, pounds, more) => {
        const by = (heavy: number) =>
          check([dose(0, more)], { ...ADULT, profile: id, weight: gramsOfPounds(heavy) }).perAgent[0]
            ?.limit ?? 0
        expect(by(pounds)).toBeLessThanOrEqual(by(pounds + 1))
        const kilograms = grams(Math.ceil(pounds * 453.59237))
        const [row] = check([dose(0, more)], { ...ADULT, profile: id, weight: kilograms }).perAgent
        expect(by(pounds)).toBeLessThanOrEqual(row?.limit ?? 0)
      }),
    )
  })
  test('what lies within leaves something or nothing, never less; what is used never falls when more is given', () => {
    fc.assert(
      fc.property(doses, weight, (given, heavy) => {
        const more = { ...ADULT, profile: 'CANADA', weight: grams(heavy) } as const
        const answer = check(given, more)
        expect(answer.perAgent.every(({ left }) => left >= 0)).toBe(true)
        if (answer.result === 'within-profile') expect(answer.usedPermille).toBeLessThanOrEqual(1000)
        const added = check([...given, dose(1)], more)
        expect(added.usedPermille ?? 0).toBeGreaterThanOrEqual(answer.usedPermille ?? 0)
      }),
    )
  })
  test('multiplying and dividing rounds down, exactly', () => {
    fc.assert(
      fc.property(fc.nat(2 ** 31), fc.nat(2 ** 31), fc.integer({ min: 1, max: 2 ** 31 }), (a, b, c) => {
        const product = BigInt(a) * BigInt(b)
        const floored = product / BigInt(c)
        fc.pre(floored <= BigInt(Number.MAX_SAFE_INTEGER))
        return BigInt(multiplyDivide(a, b, c)) === floored
      }),
    )
  })
})
