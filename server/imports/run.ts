import { randomUUID } from 'node:crypto'
import { parseWorld, type WorldTexts } from '#db/select.ts'
import { putting } from '#shared/change.ts'
import type { Command, Reach } from '#shared/command.ts'
import type { Coverage } from '#shared/schedule/incoming.ts'
import { type Around, type Made, makeMade } from '../commands/made.ts'
import { parseCommand } from '../commands/parse-command.ts'
import type { Trouble } from '../http/reply.ts'
import type { ReadOptions } from './incoming.ts'
import { makeImportInput, type Preview, type PreviewOptions, previewUpload } from './preview.ts'
import { readNow, type Upload } from './read-upload.ts'

/** A file to be read, and the command that it becomes. */
export interface RunStart {
  bytes: Uint8Array
  fileName: string
  options: ReadOptions
  source: Parameters<typeof makeImportInput>[1]
  command: Omit<Command, 'input'>
  covers?: Coverage | null
}

/** What is known once a file is read: what must be read of the clinic to go on, or why it cannot be taken. */
export type RunRead =
  | { ok: true; rows: number; digest: string; reach: Reach }
  | { ok: false; trouble: Trouble }

/** What a run is asked after it has read its file. */
export type RunStep =
  | { kind: 'preview'; texts: WorldTexts; options: PreviewOptions }
  | { kind: 'decide'; texts: WorldTexts; around: Around }

/** A run, where it is: the file and its thousands of rows never leave it. */
export function openRunHere({ bytes, fileName, options, source, command, covers }: RunStart): {
  read: RunRead
  preview: (texts: WorldTexts, options: PreviewOptions) => Preview
  decide: (texts: WorldTexts, around: Around) => Made
} {
  const upload: Upload = readNow(bytes, fileName, options)
  const parsed = parseCommand({ ...command, input: makeImportInput(upload, source, covers) })
  return {
    read: parsed.ok
      ? {
          ok: true,
          rows: upload.incoming.rows,
          digest: upload.file.digest,
          reach: parsed.value.rule.reach(parsed.value.command.input),
        }
      : { ok: false, trouble: parsed.reasons[0] as Trouble },
    preview: (texts, previewOptions) => previewUpload(parseWorld(texts), upload, previewOptions),
    decide: (texts, around) => {
      if (!parsed.ok) throw new Error('Bug: what could not be read is not decided')
      return makeMade(parseWorld(texts), parsed.value.command, {
        ...around,
        newId: <Id>() => randomUUID() as Id,
        // The rest is told by the live stream.
        tells: ({ put }) => putting('importBatch', ...(put.importBatch ?? [])),
      })
    },
  }
}
