import type { NextConfig } from 'next'

const config: NextConfig = {
  poweredByHeader: false,
  reactStrictMode: true,
  // These read files of their own beside their code and must stay where npm put them.
  serverExternalPackages: ['@electric-sql/pglite', '@electric-sql/pglite-socket', 'postgres', 'better-auth'],
  // `npm run types` checks the whole tree once; a type error in a test must not keep a clinic from starting.
  typescript: { ignoreBuildErrors: true },
}

export default config
