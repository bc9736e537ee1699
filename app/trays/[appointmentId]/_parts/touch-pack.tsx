'use client'
import { useState } from 'react'
import { server } from '#app/_live/server.ts'
import type { Performing } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { Button } from '#app/_ui/button.tsx'
import list from '#app/_ui/list.module.css'
import { findFact } from '#shared/facts.ts'
import type { TrayLine } from '#shared/trays/tray.ts'
import styles from '../../_parts/trays.module.css'

export interface TouchPackProps {
  line: TrayLine
  kind: string
  performing: Performing
}

/** Nobody holds a pack of the invented clinic in their hand to scan it: there, one off the shelf is touched instead. */
export function TouchPack({ line, kind, performing }: TouchPackProps) {
  const { world } = useWorld()
  const [none, setNone] = useState(false)
  if (!world.clinic[0]?.invented) return null
  const take = async () => {
    const appointmentId = world.tray.find(({ id }) => id === line.trayId)?.appointmentId ?? null
    const siteId = findFact(world, 'appointment', appointmentId)?.siteId
    const [code] = await server.packs.onShelf.query({ kind, ...(siteId ? { siteId } : {}) }).catch(() => [])
    setNone(code === undefined)
    if (code !== undefined) {
      await performing.perform('tray.scan', { trayId: line.trayId, code }, `Pack ${code} is on the tray.`)
    }
  }
  return (
    <div className={styles.tick}>
      <Button onPress={take} isDisabled={performing.busy} aria-label={`Take one off the shelf: ${line.name}`}>
        Take one off the shelf
        <small>invented packs cannot be scanned</small>
      </Button>
      {none ? <p className={list.small}>None is on the shelf.</p> : null}
    </div>
  )
}
