import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import { parseRecallAsked } from '#server/trpc/recall-asked.ts'
import { openBench } from '../_parts/open-bench.ts'
import { RecallScreen } from './_parts/recall-screen.tsx'

export const metadata: Metadata = { title: 'Recall' }

export default async function Page({ searchParams }: { searchParams: Promise<Record<string, unknown>> }) {
  const asked = parseRecallAsked(await searchParams)
  if (!asked) notFound()
  const bench = await openBench()
  const preview = await (await ask()).sterility.recall(asked)
  return (
    <Frame clinic={bench.of.clinic} member={bench.of.member} here="/sterilising">
      <RecallScreen {...bench} asked={asked} preview={preview} />
    </Frame>
  )
}
