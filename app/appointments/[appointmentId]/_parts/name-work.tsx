'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { workWords } from '#app/_ui/work-words.ts'
import { ageInYears } from '#shared/base/moment.ts'
import { CATALOGUE } from '#shared/procedures/catalogue.ts'
import { recogniseWork } from '#shared/procedures/recognise.ts'
import type { ProcedureKind, Work } from '#shared/procedures/work.ts'
import { shownWork } from '#shared/readiness/shown.ts'
import { isAnterior, SURFACES, type Surface, type Tooth } from '#shared/teeth/tooth.ts'
import { hasSurfaces, kindsNamed } from './kind-groups.ts'
import styles from './name-work.module.css'
import { ToothPick } from './tooth-pick.tsx'

/** What is to be done, as far as it has been chosen. */
interface Chosen {
  kind: ProcedureKind | null
  teeth: Tooth[]
  surfaces: Partial<Record<Tooth, Surface[]>>
}

export interface NameWorkProps {
  seen: Seen
  /** Null: a further line of work. */
  work: Work | null
  onDone: () => void
}

/** The dentist says what is to be done: the kind by typing or touch, teeth and surfaces by touch. */
export function NameWork({ seen, work, onDone }: NameWorkProps) {
  const performing = usePerform()
  const [text, setText] = useState('')
  const [settles, setSettles] = useState(false)
  const [chosen, setChosen] = useState<Chosen>(() => chosenIn(work))
  const read = recogniseWork(text, seen.notation)
  const others = work ? saidElsewhere(work, chosen.teeth) : []
  const takeKind = (kind: ProcedureKind) => {
    setChosen({ ...chosen, kind })
    setText('')
  }
  const wear = (surfaces: Chosen['surfaces']) => setChosen({ ...chosen, surfaces })
  return (
    <div className={styles.form}>
      <Button autoFocus onPress={onDone}>
        Leave it as it is
      </Button>
      <Field
        label="What is to be done: type it, or touch it below"
        hint="For instance root canal 16, or comp 46 MO."
        value={text}
        onChange={setText}
      />
      {read.kind === 'undetermined' ? null : (
        <Button
          tone="ink"
          onPress={() => {
            setChosen({ ...read, kind: read.kind === 'undetermined' ? null : read.kind })
            setText('')
          }}
        >
          Take it: {workWords({ kind: read.kind, text, surfaces: read.surfaces })}{' '}
          {read.teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ')}
        </Button>
      )}
      {chosen.kind !== null && text === '' ? (
        <div className={styles.kinds}>
          <Button aria-pressed onPress={() => setChosen({ ...chosen, kind: null })}>
            {CATALOGUE[chosen.kind].name}
            <small>touch for another</small>
          </Button>
        </div>
      ) : (
        <Kinds text={text} chosen={chosen.kind} onKind={takeKind} />
      )}
      <ToothPick
        notation={seen.notation}
        chosen={chosen.teeth}
        primary={isChild(seen)}
        onTouch={(tooth) => setChosen(touched(chosen, tooth))}
      />
      {hasSurfaces(chosen.kind)
        ? chosen.teeth.map((tooth) => (
            <Surfaces key={tooth} tooth={tooth} chosen={chosen.surfaces} seen={seen} onSurfaces={wear} />
          ))
        : null}
      {others.length > 0 ? (
        <Button aria-pressed={settles} onPress={() => setSettles(!settles)}>
          I have looked: {others.join(', ')} no longer counts
          <small>its words stay on record</small>
        </Button>
      ) : null}
      {chosen.kind === null ? (
        <p className={styles.last}>Choose what is to be done.</p>
      ) : (
        <div className={styles.last}>
          <ActButton
            kind="work.name"
            input={{
              appointmentId: seen.facts.appointment.id,
              workId: work?.id ?? null,
              kind: chosen.kind,
              teeth: chosen.teeth,
              surfaces: hasSurfaces(chosen.kind) ? chosen.surfaces : {},
              text: work ? '' : CATALOGUE[chosen.kind].name,
              settles,
              saw: shownWork(work ? [work] : []),
            }}
            performing={performing}
            size="main"
            tone="ink"
            done="The work is named; the plan is made anew."
            onDone={onDone}
          >
            It is {saidOf(chosen, seen)}
            <small>the plan is made anew, and a word given on the old one lapses</small>
          </ActButton>
        </div>
      )}
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

const GROWN = 13
const isChild = ({ facts: { patient, appointment } }: Seen): boolean =>
  (ageInYears(patient?.born ?? null, appointment.day) ?? GROWN) < GROWN

const chosenIn = (work: Work | null): Chosen => ({
  kind: work === null || work.kind === 'undetermined' ? null : work.kind,
  teeth: work?.teeth ?? [],
  surfaces: work?.surfaces ?? {},
})

/** A tooth taken in or out; its surfaces go with it. */
function touched(chosen: Chosen, tooth: Tooth): Chosen {
  if (!chosen.teeth.includes(tooth)) return { ...chosen, teeth: [...chosen.teeth, tooth] }
  const { [tooth]: _, ...surfaces } = chosen.surfaces
  return { ...chosen, teeth: chosen.teeth.filter((each) => each !== tooth), surfaces }
}

/** Sources beside the booking that clearly name a tooth which is not among the chosen. */
const saidElsewhere = (work: Work, teeth: readonly Tooth[]): string[] =>
  teeth.length === 0
    ? []
    : work.mentions
        .filter(({ source, candidates: [only, ...more] }) => {
          if (source === 'booking' || source === 'patient' || only === undefined) return false
          return more.length === 0 && !teeth.includes(only)
        })
        .map(({ source, text }) => `“${text}” in the ${source}`)

const saidOf = ({ kind, teeth, surfaces }: Chosen, { notation }: Seen): string =>
  [
    kind === null ? '' : CATALOGUE[kind].name,
    ...teeth.map((tooth) => `${toothIn(tooth, notation)}${(surfaces[tooth] ?? []).join('')}`),
  ].join(' ')

interface KindsProps {
  text: string
  chosen: ProcedureKind | null
  onKind: (kind: ProcedureKind) => void
}

function Kinds({ text, chosen, onKind }: KindsProps) {
  const groups = kindsNamed(text)
  return (
    <div className={styles.groups}>
      {groups.map(({ title, kinds }) => (
        <fieldset key={title} className={styles.kinds}>
          <legend>{title}</legend>
          {kinds.map((kind) => (
            <Button key={kind} aria-pressed={kind === chosen} onPress={() => onKind(kind)}>
              {CATALOGUE[kind].name}
            </Button>
          ))}
        </fieldset>
      ))}
    </div>
  )
}

interface SurfacesProps {
  tooth: Tooth
  chosen: Chosen['surfaces']
  seen: Seen
  onSurfaces: (surfaces: Chosen['surfaces']) => void
}

const SURFACE_WORDS: Record<Surface, string> = {
  M: 'mesial',
  O: 'occlusal',
  D: 'distal',
  B: 'buccal',
  L: 'lingual',
  I: 'incisal',
  V: 'cervical',
}

/** A front tooth has an edge, a back tooth a chewing surface. */
const surfacesOf = (tooth: Tooth): Surface[] =>
  SURFACES.filter((surface) => surface !== (isAnterior(tooth) ? 'O' : 'I'))

function Surfaces({ tooth, chosen, seen, onSurfaces }: SurfacesProps) {
  const own = chosen[tooth] ?? []
  const touch = (surface: Surface) => {
    const next = SURFACES.filter((each) => (each === surface ? !own.includes(each) : own.includes(each)))
    const { [tooth]: _, ...rest } = chosen
    onSurfaces(next.length === 0 ? rest : { ...rest, [tooth]: next })
  }
  return (
    <fieldset className={styles.kinds}>
      <legend>Surfaces of {toothIn(tooth, seen.notation)}</legend>
      {surfacesOf(tooth).map((surface) => (
        <Button
          key={surface}
          aria-pressed={own.includes(surface)}
          aria-label={`${toothIn(tooth, seen.notation)} ${SURFACE_WORDS[surface]}`}
          onPress={() => touch(surface)}
        >
          {surface}
          <small>{SURFACE_WORDS[surface]}</small>
        </Button>
      ))}
    </fieldset>
  )
}
