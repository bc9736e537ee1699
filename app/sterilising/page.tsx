import type { Metadata } from 'next'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { BenchScreen } from './_parts/bench-screen.tsx'
import { openBench } from './_parts/open-bench.ts'

export const metadata: Metadata = { title: 'Sterilising' }

export default async function Page() {
  const bench = await openBench()
  const faults = await (await ask()).sterility.faults()
  return (
    <Frame clinic={bench.of.clinic} member={bench.of.member} here="/sterilising">
      <BenchScreen {...bench} faults={faults} />
    </Frame>
  )
}
