import { randomUUID } from 'node:crypto'

/** What an answer says, as a client reads it. */
export interface Said {
  status: number
  // biome-ignore lint/suspicious/noExplicitAny: an answer of any shape is looked into by the stories
  body: any
}

/** Someone who asks over HTTP without a browser. */
export interface Asker {
  address: string
  cookie: string
  ask: (path: string, options?: RequestInit) => Promise<Said>
  query: (path: string, input?: unknown) => Promise<Said>
  perform: (kind: string, input: unknown, more?: object) => Promise<Said>
}

/** Signs in as someone of the invented clinic. */
export async function signInAs(address: string, name: string): Promise<Asker> {
  const doors = (await (await fetch(`${address}/api/trpc/signIn.doors`)).json()) as {
    result: { data: { people: { memberId: string; name: string }[] } }
  }
  const memberId = doors.result.data.people.find((person) => person.name === name)?.memberId
  const answer = await fetch(`${address}/api/one-tap`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ memberId }),
  })
  if (!answer.ok) throw new Error(`${name} could not sign in: ${answer.status}`)
  const cookie = answer.headers
    .getSetCookie()
    .map((each) => each.split(';')[0])
    .join('; ')
  const ask: Asker['ask'] = async (path, options = {}) => {
    const came = await fetch(`${address}${path}`, {
      ...options,
      headers: { cookie, ...(options.headers as Record<string, string>) },
    })
    const text = await came.text()
    return { status: came.status, body: readJson(text) }
  }
  return {
    address,
    cookie,
    ask,
    query: (path, input = {}) => ask(`/api/trpc/${path}?input=${encodeURIComponent(JSON.stringify(input))}`),
    perform: (kind, input, more = {}) =>
      ask('/api/trpc/perform', {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ id: randomUUID(), kind, input, sawRevision: 0, madeAt: 0, ...more }),
      }),
  }
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return text
  }
}

/** The front desk without a browser. */
export async function openDesk(address: string) {
  const desk = await signInAs(address, 'Noor Kallas')
  const me = (await desk.query('me')).body.result.data
  const [{ site, today }] = me.sites
  return {
    ...desk,
    site,
    today,
    book: async (given: string, family: string): Promise<{ refused: boolean }> => {
      const said = await desk.perform('appointment.book', {
        siteId: site.id,
        day: today,
        startsAt: '17:00',
        minutes: 15,
        operatoryId: null,
        dentistId: null,
        patient: { kind: 'new', given, family, born: null },
        work: ['check-up'],
      })
      return said.body.result.data
    },
    find: async (family: string): Promise<string[]> => {
      const found = (await desk.query('patients.find', { text: family })).body.result.data
      return found.map((patient: { given: string; family: string }) => `${patient.given} ${patient.family}`)
    },
    /** A live stream as a screen holds it. */
    openStream: async () => {
      const window = encodeURIComponent(`day/${site.id}/${today}`)
      const answer = await fetch(`${address}/api/changes?window=${window}&since=0`, {
        headers: { cookie: desk.cookie },
      })
      return { status: answer.status, untilClosed: () => readAll(answer) }
    },
  }
}

async function readAll(answer: Response): Promise<'closed'> {
  await answer.text().catch(() => '')
  return 'closed'
}

/** Books a patient late in the day, over HTTP as the desk does, and gives the appointment. */
export async function bookLate(
  address: string,
  more: { work: string; family: string; interpreter?: string },
): Promise<string> {
  const desk = await signInAs(address, 'Noor Kallas')
  const clinical = await signInAs(address, 'Bea Tornqvist')
  const [{ site, today }] = (await desk.query('me')).body.result.data.sites
  const look = async () =>
    (await clinical.query('board.day', { siteId: site.id, day: today })).body.result.data.world
  const { member } = await look()
  const dentistId = member.find(({ name }: { name: string }) => name === 'Dr Ilan Feher').id
  const { family, interpreter = null } = more
  await desk.perform('appointment.book', {
    siteId: site.id,
    day: today,
    startsAt: '17:00',
    minutes: 20,
    operatoryId: null,
    dentistId,
    studentId: null,
    patient: { kind: 'new', given: 'Ola', family, born: '1990-05-05', interpreter },
    work: [more.work],
    note: '',
  })
  const world = await look()
  const patient = world.patient.find((each: { family: string }) => each.family === family)
  return world.appointment.find((each: { patientId: string }) => each.patientId === patient.id).id
}
