import { defineConfig } from '@playwright/test'
import stories from './playwright.config.ts'

/** The pictures of the read-me; not part of any run. */
export default defineConfig({ ...stories, testMatch: 'pictures.hand.ts', reporter: 'list' })
