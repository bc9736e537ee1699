import 'server-only'
import { headers } from 'next/headers'
import { callerFor } from '#server/trpc/caller.ts'

/** The server's queries, in this process, in the name of whoever asks for the page. */
export const ask = async () => callerFor(await headers())
