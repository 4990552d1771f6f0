// The one word a page and its layout share about the light.
export const THEME_COOKIE = 'talus-theme'
