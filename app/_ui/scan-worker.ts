import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'
import type { ReadAnswer, ReadAsked } from './scan-reader.ts'

/** The library's own part, served by this server: nothing is ever fetched from elsewhere. */
const PART = new URL('../../node_modules/zxing-wasm/dist/reader/zxing_reader.wasm', import.meta.url).href
prepareZXingModule({ overrides: { locateFile: () => PART } })

const answer = (message: ReadAnswer): void => self.postMessage(message)

self.addEventListener('message', async ({ data: { id, picture } }: MessageEvent<ReadAsked>) => {
  try {
    const found = await readBarcodes(picture, { formats: ['QRCode', 'DataMatrix'], tryHarder: true })
    answer({ id, texts: found.map(({ text }) => text) })
  } catch (error) {
    answer({ id, failed: String(error) })
  }
})
