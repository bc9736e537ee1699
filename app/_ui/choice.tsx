'use client'
import { type ReactNode, useState } from 'react'
import { Button, type ButtonProps } from './button.tsx'
import { Dialog } from './dialog.tsx'

export interface ChoiceProps extends Pick<ButtonProps, 'tone' | 'size'> {
  /** On the button that opens it. */
  words: string
  title: string
  /** The answer that changes nothing. */
  back: string
  /** What can be answered; called with what closes the question. */
  children: (close: () => void) => ReactNode
}

/** Something that is asked once more before it is done, with its reasons as buttons. */
export function Choice({ words, title, back, children, ...rest }: ChoiceProps) {
  const [open, setOpen] = useState(false)
  const close = () => setOpen(false)
  return (
    <>
      <Button {...rest} onPress={() => setOpen(true)}>
        {words}
      </Button>
      <Dialog title={title} isOpen={open} onClose={close}>
        <Button autoFocus onPress={close}>
          {back}
        </Button>
        {open ? children(close) : null}
      </Dialog>
    </>
  )
}
