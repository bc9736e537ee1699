'use client'
import { Button } from '#app/_ui/button.tsx'

export const PrintButton = () => (
  <Button size="main" tone="ink" onPress={() => window.print()}>
    Print
  </Button>
)
