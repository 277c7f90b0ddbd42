import { Secret } from 'otpauth';
import { codeApp } from '../harness/code-app.ts';
import { expectStatus, type TestService } from '../harness/test-service.ts';
import { bearerOf, type Invited, post } from './people.ts';

/** Somebody with a second factor. */
export interface WithFactor extends Invited {
  /** The session in which they turned it on. */
  session: { authorization: string };
  /** In base32, as it was told, and as bytes would be written. */
  secret: string;
  secretHex: string;
  /** The code that their app shows at an instant. */
  app: (at: Date) => string;
  recoveryCodes: string[];
}

/** Turns the second factor on, as somebody does who has just signed in. */
export async function turnOn(service: TestService, person: Invited): Promise<WithFactor> {
  const session = await bearerOf(service, person);
  const { password } = person;
  const begun = await post(service, '/v1/second-factor/begin', { password }, session);
  const { secret, uri } = expectStatus(begun, 200).body;
  const app = codeApp(uri);
  const code = app(service.clock.now());
  const confirmed = await post(service, '/v1/second-factor/confirm', { code }, session);
  const { recoveryCodes } = expectStatus(confirmed, 200).body;
  const secretHex = Secret.fromBase32(secret).hex.toLowerCase();
  return { ...person, session, secret, secretHex, app, recoveryCodes };
}
