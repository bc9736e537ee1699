import { existsSync, linkSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'

interface Holder {
  pid: number
  boot: string
  /** When that process started, in the machine's own ticks: numbers of processes are used again. */
  started: string
}

const BOOT_ID = '/proc/sys/kernel/random/boot_id'
const bootId = (): string => (existsSync(BOOT_ID) ? readFileSync(BOOT_ID, 'utf8').trim() : '')

/** Field 22 of proc(5)'s stat; the name before it may hold spaces and stands in brackets. */
function startedAt(pid: number): string {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19] ?? ''
  } catch {
    return ''
  }
}

const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    // Not ours to signal, so it lives.
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}

function readHolder(file: string): Holder | null {
  try {
    const parsed: unknown = JSON.parse(readFileSync(file, 'utf8'))
    if (typeof parsed !== 'object' || parsed === null) return null
    const { pid, boot, started } = parsed as Partial<Holder>
    const isWhole = typeof pid === 'number' && typeof boot === 'string' && typeof started === 'string'
    return isWhole ? { pid, boot, started } : null
  } catch {
    return null
  }
}

/** Whether the process named in the lock can still be writing: same start of the machine, same process, alive. */
const isHeld = (holder: Holder | null): holder is Holder =>
  holder !== null &&
  holder.boot === bootId() &&
  isAlive(holder.pid) &&
  holder.started === startedAt(holder.pid)

/**
 * Takes the lock file or throws, and gives back what releases it. The engine itself would let two processes
 * open one folder and lose what they write. A lock is stale when its process is gone or the machine has
 * started anew; age alone never breaks one.
 */
export function takeLock(file: string): () => void {
  const mine = JSON.stringify({ pid: process.pid, boot: bootId(), started: startedAt(process.pid) })
  for (let attempt = 0; attempt < 3; attempt += 1) {
    try {
      writeFileSync(file, mine, { flag: 'wx', mode: 0o600 })
      return () => {
        if (readFileSync(file, 'utf8') === mine) rmSync(file)
      }
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error
    }
    const holder = readHolder(file)
    if (isHeld(holder)) throw heldBy(holder.pid, file)
    putAside(file, holder)
  }
  throw heldBy(0, file)
}

/** Takes a stale lock away; one that someone else took over in the meantime is put back. */
function putAside(file: string, stale: Holder | null): void {
  const aside = `${file}.${process.pid}`
  try {
    renameSync(file, aside)
    if (JSON.stringify(readHolder(aside)) !== JSON.stringify(stale)) linkSync(aside, file)
  } catch {
    // Gone already, or held anew: the next attempt sees which.
  }
  rmSync(aside, { force: true })
}

/** Throws where another process holds the lock; takes nothing. */
export function refuseHeld(file: string): void {
  const holder = readHolder(file)
  if (isHeld(holder)) throw heldBy(holder.pid, file)
}

const heldBy = (pid: number, file: string): Error =>
  new Error(
    `Another process${pid > 0 ? ` (${pid})` : ''} is using this data folder.\n` +
      'Two processes on one folder would lose what they write, so this one does not start.\n' +
      `Stop the other one first, or set DATA_FOLDER to another folder. The lock is ${file}.`,
  )
