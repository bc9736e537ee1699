import { answerChanges } from '../realtime/changes-route.ts'
import { answerTrpc } from '../trpc/route.ts'
import type { Answer } from './answer.ts'
import { answerExport } from './export-route.ts'
import { answerFeed } from './feed-route.ts'
import { answerHealth } from './health.ts'
import { answerImport, answerOriginal } from './import-route.ts'
import { answerLabels } from './labels-route.ts'
import { answerOwnDigits } from './own-digits-route.ts'
import { answerPeople } from './people-route.ts'
import { answerPunchTemplate, answerTrayCard } from './print-route.ts'
import { answerRecallList } from './recall-route.ts'
import { answerFound, answerOneTap, answerSignIn, answerSignOut } from './sign-in-routes.ts'
import { answerStation } from './station-route.ts'

/** What the process answers itself, before any page. A path with a slash at its end takes all below it. */
export const ROUTES: { path: string; answer: Answer }[] = [
  { path: '/healthz', answer: answerHealth },
  { path: '/api/trpc/', answer: answerTrpc },
  { path: '/api/changes', answer: answerChanges },
  { path: '/api/auth/sign-in/email', answer: answerSignIn },
  { path: '/api/auth/sign-out', answer: answerSignOut },
  { path: '/api/one-tap', answer: answerOneTap },
  { path: '/api/station', answer: answerStation },
  { path: '/api/found', answer: answerFound },
  { path: '/api/import', answer: answerImport },
  { path: '/api/import/original', answer: answerOriginal },
  { path: '/api/export/', answer: answerExport },
  { path: '/feed/', answer: answerFeed },
  { path: '/api/people', answer: answerPeople },
  { path: '/api/own-digits', answer: answerOwnDigits },
  { path: '/api/print/punch-template', answer: answerPunchTemplate },
  { path: '/api/print/tray-card', answer: answerTrayCard },
  { path: '/api/print/labels', answer: answerLabels },
  { path: '/api/recall', answer: answerRecallList },
]
