import styles from './guide.module.css'

/** The frame the right way up on a face: its curve to the chin, its open ends to the eyes. */
export function FramePicture() {
  return (
    <svg
      viewBox="0 0 200 220"
      className={styles.frame}
      role="img"
      aria-label="The frame the right way up: open ends to the eyes, curve to the chin, the nose free"
    >
      <path d="M42 70Q40 8 100 8Q160 8 158 70V110Q158 190 100 206Q42 190 42 110Z" className={styles.face} />
      <path
        d="M64 62Q74 54 84 62Q74 70 64 62ZM116 62Q126 54 136 62Q126 70 116 62Z"
        className={styles.feature}
      />
      <path d="M100 66L92 98Q100 104 108 98" className={styles.feature} />
      <rect x="48" y="108" width="104" height="84" rx="3" className={styles.rubber} />
      <path d="M52 100V150Q52 194 100 196Q148 194 148 150V100" className={styles.wire} />
      <path
        d="M52 116h-7M52 138h-7M60 172l-6 4M84 192l-3 6M116 192l3 6M140 172l6 4M148 138h7M148 116h7"
        className={styles.pin}
      />
      <path d="M86 146Q100 140 114 146Q100 158 86 146Z" className={styles.feature} />
      <text x="100" y="46" className={styles.label}>
        eyes: open ends
      </text>
      <text x="100" y="216" className={styles.label}>
        chin: curve
      </text>
    </svg>
  )
}
