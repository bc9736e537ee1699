'use client'
import { useCallback, useRef, useState } from 'react'
import type { CommandRule } from '#shared/command.ts'
import type { CommandKind, Commands } from '#shared/commands.ts'
import type { Finding } from '#shared/finding.ts'
import type { CommandId } from '#shared/ids.ts'
import { say } from '#shared/words/en.ts'
import { newId } from './new-id.ts'
import { useLive } from './provider.tsx'
import { server } from './server.ts'
import { type Trouble, troubleOf } from './trouble.ts'

export type InputOf<Kind extends CommandKind> =
  Commands[Kind] extends CommandRule<string, infer Input> ? FromScreen<Input> : never

/** What answers something shown says from a screen what that was. */
type FromScreen<Input> = 'saw' extends keyof Input ? Omit<Input, 'saw'> & { saw: string } : Input

/** What came of the last command on this screen. */
export type Outcome =
  | { kind: 'done'; findings: Finding[] }
  | { kind: 'refused'; findings: Finding[] }
  | { kind: 'trouble'; trouble: Trouble }

/** A second touch of the same by a gloved finger within this time is the first one's echo; of something else it is meant. */
const ECHO_MS = 300

export interface Performing {
  /** Sends a command; resolves when it is done or refused. Nothing is sent while one is on its way. */
  perform: <Kind extends CommandKind>(
    kind: Kind,
    input: InputOf<Kind>,
    done?: string,
  ) => Promise<Outcome | null>
  busy: boolean
  /** The last outcome that was not simply done, until the next command. */
  outcome: Outcome | null
}

/** Commands from this screen: the change itself comes back by the stream, the refusal here. */
export function usePerform(): Performing {
  const { held, now, announce } = useLive()
  const [busy, setBusy] = useState(false)
  const [outcome, setOutcome] = useState<Outcome | null>(null)
  const last = useRef({ touch: '', until: 0 })

  const perform = useCallback<Performing['perform']>(
    async (kind, input, done = 'Done.') => {
      const touch = JSON.stringify([kind, input])
      const { touch: before, until } = last.current
      if (until === Number.POSITIVE_INFINITY || (touch === before && performance.now() < until)) return null
      last.current = { touch, until: Number.POSITIVE_INFINITY }
      setBusy(true)
      const came = await send({
        id: newId<CommandId>(),
        kind,
        input,
        sawRevision: held.revision,
        madeAt: now(),
      })
      last.current = { touch, until: performance.now() + ECHO_MS }
      setBusy(false)
      setOutcome(came)
      if (came.kind === 'done') announce(heldBy(came.findings) ?? done)
      return came
    },
    [held.revision, now, announce],
  )
  return { perform, busy, outcome }
}

/** Done and kept, and yet it holds: what was done is not announced as settled. */
function heldBy(findings: readonly Finding[]): string | null {
  const stop = findings.find(({ level }) => level === 'stop')
  return stop ? say(stop) : null
}

async function send(command: Parameters<typeof server.perform.mutate>[0]): Promise<Outcome> {
  try {
    const answer = await server.perform.mutate(command)
    if (answer.refused) return { kind: 'refused', findings: answer.findings }
    return { kind: 'done', findings: answer.findings }
  } catch (error) {
    return { kind: 'trouble', trouble: troubleOf(error) }
  }
}
