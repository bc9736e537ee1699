import Link from 'next/link'
import type { DayOf } from '#app/_live/day-of.ts'
import list from '#app/_ui/list.module.css'
import { can } from '#shared/people/role.ts'

const PAGES = [
  { path: '/trays', name: 'To lay out' },
  { path: '/trays/stock', name: 'Stock' },
  { path: '/trays/sets', name: 'Sets between sites' },
] as const
type Path = (typeof PAGES)[number]['path']

/** The pages about trays that serve whoever looks: stock for those who count it, travelling where there are several sites. */
export function TraysNav({ of, here }: { of: DayOf; here: Path }) {
  const serves: Record<Path, boolean> = {
    '/trays': true,
    '/trays/stock': can(of.member.roles, 'stock:count'),
    '/trays/sets': of.sites.length > 1,
  }
  return (
    <nav aria-label="About trays" className={list.parts}>
      {PAGES.filter(({ path }) => serves[path]).map(({ path, name }) => (
        <Link key={path} href={path} aria-current={path === here ? 'page' : undefined} prefetch={false}>
          {name}
        </Link>
      ))}
    </nav>
  )
}
