import type { IncomingMessage } from 'node:http';
import { BlockList, isIP } from 'node:net';
import { v4 } from 'uuid';

/**
 * What names a request in its answer, its log lines, its problems and the journal. A proxy that is
 * trusted may have named it already, so that its own log is found by the same name; what anybody
 * else says, or what is not well formed, is not believed.
 * @param trustProxy addresses or networks joined by commas, as the configuration has checked them
 */
export function requestIds(trustProxy: string | undefined): (request: IncomingMessage) => string {
  const trusted = networksOf(trustProxy ?? '');
  return ({ headers, socket }) => {
    const given = headers['x-request-id'];
    const isNamed = typeof given === 'string' && WELL_FORMED.test(given);
    return isNamed && isAmong(trusted, socket.remoteAddress ?? '') ? given : v4();
  };
}

/** Long enough to be told apart from others, and of letters that need no care in any text. */
const WELL_FORMED = /^[A-Za-z0-9][A-Za-z0-9._-]{7,63}$/;

function networksOf(list: string): BlockList {
  const networks = new BlockList();
  for (const entry of list.split(',').map((each) => each.trim())) {
    const [address = '', length] = entry.split('/');
    const family = isIP(address) === 6 ? 'ipv6' : 'ipv4';
    if (isIP(address) === 0) continue;
    if (length === undefined) networks.addAddress(address, family);
    else networks.addSubnet(address, Number(length), family);
  }
  return networks;
}

/** An IPv4 caller at an IPv6 socket comes as ::ffff:192.0.2.7, which the list knows to be the same. */
function isAmong(networks: BlockList, address: string): boolean {
  const family = isIP(address);
  return family !== 0 && networks.check(address, family === 6 ? 'ipv6' : 'ipv4');
}
