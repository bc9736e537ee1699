'use client'
import type { Performing } from '#app/_live/use-perform.ts'
import { ScanField } from '#app/_ui/scan-field.tsx'
import type { Tray } from '#shared/trays/tray.ts'

const BEFORE_OPEN: readonly Tray['life']['kind'][] = ['claimed', 'laid-out', 'checked']

/** Puts a scanned pack on the tray while it is laid out. */
export function ScanOntoTray({ tray, performing }: { tray: Tray; performing: Performing }) {
  if (!BEFORE_OPEN.includes(tray.life.kind)) return null
  const scan = async (code: string): Promise<boolean> => {
    const came = await performing.perform(
      'tray.scan',
      { trayId: tray.id, code },
      `Pack ${code} is on the tray.`,
    )
    return came?.kind === 'done'
  }
  return <ScanField label="Scan a pack" act="Put on tray" onCode={scan} />
}
