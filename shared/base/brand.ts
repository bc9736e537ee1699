declare const brand: unique symbol

/** A primitive that only its own parser or maker gives out. */
export type Brand<T, Name extends string> = T & { readonly [brand]: Name }
