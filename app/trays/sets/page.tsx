import type { Metadata } from 'next'
import { Frame } from '#app/_frame/frame.tsx'
import { openStock } from '../_parts/open-stock.ts'
import { SetsScreen } from './_parts/sets-screen.tsx'

export const metadata: Metadata = { title: 'Sets between sites' }

export default async function Page() {
  const { of, snapshot } = await openStock('tray:use')
  return (
    <Frame clinic={of.clinic} member={of.member} here="/trays">
      <SetsScreen of={of} snapshot={snapshot} />
    </Frame>
  )
}
