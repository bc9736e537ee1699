/** Which of several sites this screen shows: a screen hangs at one site, whoever signs in there. */
export const SITE_COOKIE = 'weirboard-site'
