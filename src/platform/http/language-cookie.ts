/** Keeps the language that was asked for. It says nothing of a person, and outlives signing out. */
export const LANGUAGE_COOKIE = '__Host-lang';
