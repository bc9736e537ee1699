import { createHash, randomBytes } from 'node:crypto'
import type { Tx } from '#db/database.ts'
import { canonicalJson } from '#shared/base/canonical.ts'
import type { Instant } from '#shared/base/moment.ts'
import type { Change } from '#shared/change.ts'
import type { Command } from '#shared/command.ts'
import type { Finding } from '#shared/finding.ts'
import type { ClinicId, CommandId, MemberId } from '#shared/ids.ts'

/** The shape of facts that rows are written in; it grows when a fact gains a key. */
export const SHAPE = 1

/** What is always kept of an entry. */
export interface Metadata {
  clinicId: ClinicId
  revision: number
  commandId: CommandId
  kind: string
  at: Instant
  recordedAt: Instant
  by: MemberId
  station: string
  shape: number
  contentDigest: string
  previous: string
}

/** What may be blanked: the digests stay, and with them the chain. */
export interface Content {
  command: Command
  change: Change
  before: Change
}

export interface Entry extends Metadata {
  content: (Content & { salt: string; findings: Finding[] }) | null
  digest: string
}

// The platform's own SHA-256: an import's change is megabytes long.
const sha256 = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex')

export const digestOfContent = (salt: string, { command, change, before }: Content): string =>
  sha256(salt + canonicalJson({ command, change, before }))

export const digestOfEntry = (metadata: Metadata): string => sha256(canonicalJson(metadata))

/** The content of an entry as it is written, and what stands for it in the chain. */
export interface ContentTexts {
  command: string
  change: string
  before: string
  findings: string
  salt: string
  contentDigest: string
}

/** The salt keeps a blanked entry from being guessed by its digest. */
export function sealContent(content: Content, findings: readonly Finding[]): ContentTexts {
  const salt = randomBytes(16).toString('hex')
  return {
    command: JSON.stringify(content.command),
    change: JSON.stringify(content.change),
    before: JSON.stringify(content.before),
    findings: JSON.stringify(findings),
    salt,
    contentDigest: digestOfContent(salt, content),
  }
}

/** The next entry of a chain. */
export function makeEntry(
  metadata: Omit<Metadata, 'contentDigest' | 'shape'>,
  { contentDigest }: ContentTexts,
): Metadata & { digest: string } {
  const whole: Metadata = { ...metadata, shape: SHAPE, contentDigest }
  return { ...whole, digest: digestOfEntry(whole) }
}

const INSERT = `insert into journal (clinic_id, revision, command_id, kind, at, recorded_at, "by", station,
    command, change, before, findings, salt, shape, content_digest, previous, digest)
  values ($1, $2, $3, $4, $5, $6, $7, $8, $9::jsonb, $10::jsonb, $11::jsonb, $12::jsonb, $13, $14, $15, $16, $17)`

export async function saveEntry(
  tx: Tx,
  entry: Metadata & { digest: string },
  { command, change, before, findings, salt }: ContentTexts,
): Promise<void> {
  await tx.unsafe(
    INSERT,
    [
      entry.clinicId,
      entry.revision,
      entry.commandId,
      entry.kind,
      entry.at,
      entry.recordedAt,
      entry.by,
      entry.station,
      command,
      change,
      before,
      findings,
      salt,
      entry.shape,
      entry.contentDigest,
      entry.previous,
      entry.digest,
    ],
    { prepare: true },
  )
}

/** Entries after a revision, oldest first. */
export async function readEntries(
  tx: Tx,
  clinicId: ClinicId,
  { after, limit = 1000 }: { after: number; limit?: number },
): Promise<Entry[]> {
  const rows = await tx.unsafe<
    (Metadata & Partial<Content> & { salt: string | null; findings: Finding[]; digest: string })[]
  >(
    `select clinic_id as "clinicId", revision, command_id as "commandId", kind, at, recorded_at as "recordedAt",
      "by", station, shape, content_digest as "contentDigest", previous, digest, command, change, before, findings, salt
      from journal where clinic_id = $1 and revision > $2 order by revision limit $3`,
    [clinicId, after, limit],
    { prepare: true },
  )
  return rows.map(({ command, change, before, findings, salt, digest, ...metadata }) => ({
    ...metadata,
    digest,
    content:
      command && change && before && salt !== null ? { command, change, before, findings, salt } : null,
  }))
}

/** The first revision at which a chain does not hold; null where it holds. Blanked content does not break it. */
export function findBreak(entries: readonly Entry[], previous = ''): number | null {
  let last = previous
  for (const { content, digest, ...metadata } of entries) {
    const holds =
      metadata.previous === last &&
      digestOfEntry(metadata) === digest &&
      (content === null || digestOfContent(content.salt, content) === metadata.contentDigest)
    if (!holds) return metadata.revision
    last = digest
  }
  return null
}
