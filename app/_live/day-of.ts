import type { Day } from '#shared/base/moment.ts'
import type { MemberId } from '#shared/ids.ts'
import type { Clinic, Member, Site } from '#shared/people/clinic.ts'

/** One site's day, who looks at it, and the names it shows. */
export interface DayOf {
  clinic: Clinic
  site: Site
  /** All of the clinic's, for a choice where there are several. */
  sites: Pick<Site, 'id' | 'name'>[]
  day: Day
  member: Member
  names: Record<MemberId, string>
  /** Those who may treat, for a choice of whom. */
  treaters: Pick<Member, 'id' | 'shortName'>[]
}
