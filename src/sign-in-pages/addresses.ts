/** Where each page of this room is. */
export const addresses = {
  signIn: '/sign-in',
  setPassword: '/set-password',
  account: '/account',
  password: '/account/password',
  secondFactor: '/account/second-factor',
  sessions: '/account/sessions',
} as const;

/** Where whoever has the token of a link sets their password. */
export function passwordPath(token: string): string {
  return `${addresses.setPassword}/${token}`;
}
