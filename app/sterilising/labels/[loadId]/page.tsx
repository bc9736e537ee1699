import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound, redirect } from 'next/navigation'
import { ask } from '#app/_frame/ask.ts'
import { Frame } from '#app/_frame/frame.tsx'
import list from '#app/_ui/list.module.css'
import { type LoadId, parseId } from '#shared/ids.ts'
import { can } from '#shared/people/role.ts'
import { LabelSheet } from './_parts/label-sheet.tsx'
import styles from './_parts/labels.module.css'

export const metadata: Metadata = { title: 'Pack labels' }

export default async function Page({ params }: { params: Promise<{ loadId: string }> }) {
  const loadId = parseId<LoadId>((await params).loadId)
  const server = await ask()
  const me = await server.me()
  if (!me) redirect('/sign-in')
  if (!loadId || !can(me.member.roles, 'sterility:run')) notFound()
  const labels = await server.sterility.labels({ loadId })
  return (
    <Frame clinic={me.clinic} member={me.member} here="/sterilising">
      <article className={styles.page}>
        <header className={styles.head}>
          <h1>Pack labels{labels[0] ? `, load ${labels[0].load}` : ''}</h1>
          <p>
            For sheets of 24 labels of 70 × 37 mm on A4. Print at 100 %, not fitted to the page. A label says
            nothing of the release: a scan does.
          </p>
          <div className={list.acts}>
            {labels.length === 0 ? null : (
              <a
                href={`/api/print/labels?load=${loadId}`}
                className={list.open}
                data-size="main"
                target="_blank"
                rel="noopener"
              >
                Print: PDF at true size
              </a>
            )}
            <Link href="/sterilising" prefetch={false}>
              Back to the steriliser
            </Link>
          </div>
        </header>
        {labels.length === 0 ? (
          <p>No label is made: this load has no pack that can still be used.</p>
        ) : (
          <LabelSheet labels={labels} clinic={me.clinic.name} />
        )}
      </article>
    </Frame>
  )
}
