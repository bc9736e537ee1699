import { createHash } from 'node:crypto'
import { promisify } from 'node:util'
import { gunzip, gzip } from 'node:zlib'
import { asClinic } from '#db/as-clinic.ts'
import type { Database } from '#db/database.ts'
import { assert } from '#shared/base/assert.ts'
import type { ClinicId, ImportBatchId } from '#shared/ids.ts'

interface Keeper {
  database: Database
  wall: () => number
}

/** So much of a file crosses to the database at a time: it is written out as text here, and all at once that takes long. */
const PIECE = 4 * 1024 * 1024

const pack = promisify(gzip)
const unpack = promisify(gunzip)
export const digestOfFile = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')

/** Keeps a file as it came, once for however many runs. It is kept before its run, so no run is without it. */
export async function keepOriginal(
  { database, wall }: Keeper,
  clinicId: ClinicId,
  { bytes, digest }: { bytes: Uint8Array; digest: string },
): Promise<void> {
  const packed = await pack(bytes)
  await asClinic(database, clinicId, async (tx) => {
    const made = await tx.unsafe(
      `insert into import_original (clinic_id, digest, packed, size, kept_at) values ($1, $2, $3, $4, $5)
        on conflict do nothing returning digest`,
      [clinicId, digest, packed.subarray(0, PIECE), bytes.length, wall()],
      { prepare: true },
    )
    if (made.length === 0) return
    for (let from = PIECE; from < packed.length; from += PIECE)
      await tx.unsafe(
        'update import_original set packed = packed || $3 where clinic_id = $1 and digest = $2',
        [clinicId, digest, packed.subarray(from, from + PIECE)],
        { prepare: true },
      )
  })
}

/** Lets a file go that no run has taken. */
export async function dropUnused({ database }: Keeper, clinicId: ClinicId, digest: string): Promise<void> {
  await asClinic(database, clinicId, (tx) =>
    tx.unsafe(
      `delete from import_original where clinic_id = $1 and digest = $2 and not exists
        (select from import_batch b where b.clinic_id = $1 and b.file_digest = $2)`,
      [clinicId, digest],
      { prepare: true },
    ),
  )
}

/** The file of a run as it came, with its name; null where there is no such run or it was kept by an older version. */
export async function readOriginal(
  { database }: Keeper,
  clinicId: ClinicId,
  batchId: ImportBatchId,
): Promise<{ name: string; bytes: Buffer } | null> {
  const [row] = await asClinic(
    database,
    clinicId,
    (tx) =>
      tx.unsafe<{ name: string; digest: string; packed: Buffer }[]>(
        `select b.file_name as name, o.digest, o.packed from import_batch b
          join import_original o on o.clinic_id = b.clinic_id and o.digest = b.file_digest
          where b.clinic_id = $1 and b.id = $2`,
        [clinicId, batchId],
        { prepare: true },
      ),
    'read',
  )
  if (!row) return null
  const bytes = await unpack(row.packed)
  assert(digestOfFile(bytes) === row.digest, 'a kept file is as it came')
  return { name: row.name, bytes }
}
