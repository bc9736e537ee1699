import { removeFolder, SEEDED, start } from './product.ts'

/** Makes the invented clinic once for all stories, by a first start of the product itself. */
export default async function makeSeeded(): Promise<void> {
  removeFolder(SEEDED)
  const product = await start({ folder: SEEDED, port: Number(process.env.SCREENS_PORT ?? 3210) - 1 })
  const code = await product.stop()
  if (code !== 0) throw new Error(`The first start did not end well (${code}):\n${product.said()}`)
}
