import { defineConfig } from 'drizzle-kit'

/** Paths are relative to the folder the command runs in: the project's root. */
export default defineConfig({
  dialect: 'postgresql',
  schema: './db/schema/*.ts',
  out: './db/migrations',
  casing: 'snake_case',
})
