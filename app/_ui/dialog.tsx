'use client'
import type { ReactNode } from 'react'
import { Dialog as AriaDialog } from 'react-aria-components/Dialog'
import { Heading } from 'react-aria-components/Heading'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import styles from './dialog.module.css'

export interface DialogProps {
  title: string
  isOpen: boolean
  onClose: () => void
  children: ReactNode
}

/** A question that must be answered before going on. The answer that changes nothing stands first and has the focus. */
export function Dialog({ title, isOpen, onClose, children }: DialogProps) {
  return (
    <ModalOverlay
      className={styles.overlay ?? ''}
      isOpen={isOpen}
      onOpenChange={(open) => open || onClose()}
      isDismissable
    >
      <Modal className={styles.modal ?? ''}>
        <AriaDialog className={styles.dialog ?? ''}>
          <Heading slot="title" className={styles.title ?? ''}>
            {title}
          </Heading>
          {children}
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  )
}
