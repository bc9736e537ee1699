/** Asks for a command; how long until another sheet stands painted, in ms. */
export type ChangePlan = (command: object) => Promise<number>

declare global {
  interface Window {
    changePlan: ChangePlan
  }
}

const DRAWN_WITHIN_MS = 10_000
const drawn = (): string =>
  [...document.querySelectorAll('svg[role="img"]')].map((svg) => svg.outerHTML).join()

async function perform(command: object): Promise<void> {
  const answer = await fetch('/api/trpc/perform', {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(command),
  })
  const said = await answer.text()
  if (!answer.ok || said.includes('"refused":true')) throw new Error(`It was refused: ${said}`)
}

/** Runs in the browser, and asks as the page's own buttons do. */
window.changePlan = (command) =>
  new Promise((resolve, reject) => {
    const before = drawn()
    const began = performance.now()
    const late = setTimeout(() => reject(new Error('No other sheet was drawn.')), DRAWN_WITHIN_MS)
    const watch = new MutationObserver(() => {
      if (drawn() === before) return
      watch.disconnect()
      clearTimeout(late)
      // After the frame in which it is painted.
      requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - began)))
    })
    watch.observe(document.body, { subtree: true, childList: true, attributes: true })
    perform(command).catch(reject)
  })
