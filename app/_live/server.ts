import { createTRPCClient, httpLink } from '@trpc/client'
import type { AppRouter } from '#server/trpc/router.ts'

/** The server's queries and its one mutation, from the browser. */
export const server = createTRPCClient<AppRouter>({ links: [httpLink({ url: '/api/trpc' })] })
