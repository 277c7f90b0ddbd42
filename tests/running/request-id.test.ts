import { IncomingMessage } from 'node:http';
import { Socket } from 'node:net';
import { describe, expect, it } from 'vitest';
import { requestIds } from '../../src/platform/http/request-id.ts';

/** A request as it comes from an address, with a name it may have been given. */
function requestFrom(address: string, given: string | undefined): IncomingMessage {
  const socket = new Socket();
  Object.defineProperty(socket, 'remoteAddress', { value: address });
  const request = new IncomingMessage(socket);
  if (given !== undefined) request.headers['x-request-id'] = given;
  return request;
}

const OWN = /^[\da-f]{8}-[\da-f]{4}-4[\da-f]{3}-[89ab][\da-f]{3}-[\da-f]{12}$/;
const given = 'edge-7f31.0a_42';

describe('a request keeps the name it came with', () => {
  it.each([
    ['a proxy that is named', '192.0.2.7', '10.0.0.0/8, 192.0.2.7'],
    ['a proxy in a network', '10.1.2.3', '10.0.0.0/8'],
    ['a proxy in a network that came by an IPv6 socket', '::ffff:10.1.2.3', '10.0.0.0/8'],
    ['a proxy in an IPv6 network', '2001:db8::5', '2001:db8::/32'],
  ])('from %s', (_, address, trusted) => {
    expect(requestIds(trusted)(requestFrom(address, given))).toBe(given);
  });
});

describe('a request gets a name of ours', () => {
  it.each([
    ['when it has none', '10.1.2.3', undefined],
    ['from anybody else', '203.0.113.9', given],
    ['when its name is too short', '10.1.2.3', 'edge-7f'],
    ['when its name is too long', '10.1.2.3', 'e'.repeat(65)],
    ['when its name has a line end', '10.1.2.3', 'edge-7f31\n{"level":60}'],
    ['when it was named twice', '10.1.2.3', `${given}, ${given}`],
    ['when its name is no text', '10.1.2.3', '<b>edge-7f31</b>'],
  ])('%s', (_, address, name) => {
    expect(requestIds('10.0.0.0/8')(requestFrom(address, name))).toMatch(OWN);
  });

  it('whoever asks, where no proxy is trusted', () => {
    expect(requestIds(undefined)(requestFrom('127.0.0.1', given))).toMatch(OWN);
  });
});
