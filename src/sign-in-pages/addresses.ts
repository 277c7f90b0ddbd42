/** Where each page of this room is. */
export const addresses = {
  signIn: '/sign-in',
  setPassword: '/set-password',
  account: '/account',
  secondFactor: '/account/second-factor',
} as const;
