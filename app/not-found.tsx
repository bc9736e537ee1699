import { TroubleBox } from './_ui/trouble-box.tsx'

const NOT_HERE = {
  what: 'There is no such page here, or it is not for the person signed in.',
  why: 'Pages with clinical facts open only for those who treat patients.',
  todo: 'Go back to the board, or sign in as the person you are.',
}

export default function NotFound() {
  return (
    <main style={{ padding: '2rem' }}>
      <TroubleBox trouble={NOT_HERE} />
      <p>
        <a href="/board">To the board</a>
      </p>
    </main>
  )
}
