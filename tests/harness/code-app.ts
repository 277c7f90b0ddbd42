import { TOTP, URI } from 'otpauth';

/**
 * An app that shows codes, as others write it: it takes our address over as it scans it.
 * @returns the code that it shows at an instant
 */
export function codeApp(uri: string): (at: Date) => string {
  const read = URI.parse(uri);
  if (!(read instanceof TOTP)) throw new Error(`not an address of codes by time: ${uri}`);
  return (at) => read.generate({ timestamp: at.getTime() });
}
