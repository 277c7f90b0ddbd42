/** What the first line says of where everything is: nobody should find out when it is too late. */
export const INSIDE: readonly string[] = [
  'Every row of every table, the journal with its seals among them.',
  'The bytes of every paper and photo.',
  'The public keys that papers were signed with, so that old papers can still be checked.',
  'The secrets of second factors, sealed with a key that is not in this file.',
  'The hashes of sign-in tokens, customer links and calendars: they work as before.',
];

export const OUTSIDE: readonly string[] = [
  'The private key that signs papers (PAPER_KEY_FILE). Keep a copy apart from this file. ' +
    'Without it a new key is made at the start, and old papers stay valid.',
  'The key that seals second factors (SECOND_FACTOR_KEY_FILE). Keep a copy apart from this file. ' +
    'Without it codes cannot be checked: people sign in with a recovery code and turn them on anew.',
  'The settings of the service, such as addresses and passwords of mail and database servers.',
  'Mails kept as files where no mail server was set: the papers they carried are inside.',
];
