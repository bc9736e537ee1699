'use client'
import type { ReactNode } from 'react'
import type { InputOf, Performing } from '#app/_live/use-perform.ts'
import type { CommandKind } from '#shared/commands.ts'
import { Button, type ButtonProps } from './button.tsx'

export interface ActButtonProps<Kind extends CommandKind>
  extends Pick<ButtonProps, 'size' | 'tone' | 'isDisabled' | 'aria-label' | 'aria-pressed'> {
  kind: Kind
  input: InputOf<Kind>
  performing: Performing
  /** What is said politely when it is done. */
  done?: string
  /** Called when it is done, not when it is refused. */
  onDone?: () => void
  children: ReactNode
}

/** A button that sends one command. Its refusal stands in the `OutcomeBox` of the same `performing`. */
export function ActButton<Kind extends CommandKind>(props: ActButtonProps<Kind>) {
  const { kind, input, performing, done, onDone, isDisabled = false, ...rest } = props
  const act = async () => {
    const outcome = await performing.perform(kind, input, done)
    if (outcome?.kind === 'done') onDone?.()
  }
  return <Button {...rest} isDisabled={isDisabled || performing.busy} onPress={act} data-command={kind} />
}
