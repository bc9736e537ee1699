import { z } from 'zod'
import { must } from '../base/assert.ts'
import { putting } from '../change.ts'
import { commandRule } from '../command.ts'
import { done } from './decide.ts'

const minutes = z.int().min(0).max(600)

export const TURNAROUND_COMMANDS = {
  /** What the clinic measured for each step, in minutes; null: the figures are taken back as not measured. */
  'turnaround.set': commandRule({
    kind: 'turnaround.set',
    needs: 'sterility:run',
    input: z.object({
      turnaround: z
        .object({ soak: minutes, clean: minutes, dry: minutes, pack: minutes, cycle: minutes, cool: minutes })
        .nullable(),
    }),
    reach: () => ({}),
    decide: (world, { turnaround }) => {
      const policySet = must(world.policySet[0], 'a founded clinic has a policy set')
      return done(putting('policySet', { ...policySet, sterility: { ...policySet.sterility, turnaround } }))
    },
  }),
}
