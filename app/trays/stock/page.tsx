import type { Metadata } from 'next'
import { Frame } from '#app/_frame/frame.tsx'
import { openStock } from '../_parts/open-stock.ts'
import { StockScreen } from './_parts/stock-screen.tsx'

export const metadata: Metadata = { title: 'Stock' }

export default async function Page() {
  const { of, snapshot } = await openStock('stock:count')
  return (
    <Frame clinic={of.clinic} member={of.member} here="/trays">
      <StockScreen of={of} snapshot={snapshot} />
    </Frame>
  )
}
