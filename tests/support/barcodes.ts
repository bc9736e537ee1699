import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { prepareZXingModule } from 'zxing-wasm/reader'

/** Gives the reading library its WebAssembly from the disk: nothing is fetched. */
export function prepareBarcodeReader(): void {
  const file = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm')
  const bytes = readFileSync(file)
  const wasmBinary = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer
  prepareZXingModule({ overrides: { wasmBinary } })
}
