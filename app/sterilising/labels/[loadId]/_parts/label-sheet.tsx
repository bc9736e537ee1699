import type { PackLabel } from '#server/trpc/sterility-router.ts'
import { KIND_WORDS } from '#shared/words/en/sterility.ts'
import styles from './labels.module.css'

/** Labels as they are printed: the code as a square and in letters, what is in the pack, steriliser, load and day. */
export function LabelSheet({ labels, clinic }: { labels: readonly PackLabel[]; clinic: string }) {
  return (
    <ul className={styles.sheet} aria-label="Labels">
      {labels.map((label) => (
        <li key={label.packId} className={styles.label}>
          <Code {...label} />
          <div className={styles.text}>
            <strong className={styles.code}>{label.code}</strong>
            <span>{label.mark ?? KIND_WORDS[label.kind]}</span>
            <span>{label.steriliser}</span>
            <span>Load {label.load}</span>
            <span>{label.day}</span>
            <span className={styles.clinic}>{clinic}</span>
          </div>
        </li>
      ))}
    </ul>
  )
}

const Code = ({ code, picture: { size, path } }: PackLabel) => (
  <svg
    viewBox={`0 0 ${size} ${size}`}
    className={styles.square}
    role="img"
    aria-label={`Code of pack ${code}`}
    shapeRendering="crispEdges"
  >
    <rect width={size} height={size} fill="#fff" />
    <path d={path} fill="#000" />
  </svg>
)
