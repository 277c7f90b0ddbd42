import { describe, expect, it } from 'vitest';
import { networkOf } from '../../src/paper-pages/network-of.ts';
import { createUploadGate, type UploadGate } from '../../src/paper-pages/upload-gate.ts';

const NOW = Date.parse('2026-07-14T18:00:00Z');
const bounds = { atOnceMax: 3, atOncePerAddressMax: 2, burst: 4, oneMoreEveryMs: 10_000 };

/** Sends a file that is read at once. */
function send(gate: UploadGate, address: string, afterMs = 0): string {
  const entry = gate.enter(address, new Date(NOW + afterMs));
  if (entry.outcome === 'entered') entry.leave();
  return entry.outcome === 'too_often' ? `wait ${entry.waitSeconds}` : entry.outcome;
}

function hold(gate: UploadGate, address: string) {
  return gate.enter(address, new Date(NOW));
}

describe('files are taken', () => {
  it('from one address so many in one go, and then one more after each while', () => {
    const gate = createUploadGate(bounds);
    const inOneGo = [1, 2, 3, 4, 5].map(() => send(gate, '192.0.2.1'));
    expect(inOneGo).toEqual(['entered', 'entered', 'entered', 'entered', 'wait 10']);
    expect(send(gate, '192.0.2.1', 9_001)).toBe('wait 1');
    expect(send(gate, '192.0.2.1', 10_000)).toBe('entered');
    expect(send(gate, '192.0.2.1', 10_000)).toBe('wait 10');
    // Whoever has not come for a while may send as many as at first, and no more than that.
    const later = [1, 2, 3, 4, 5].map(() => send(gate, '192.0.2.1', 900_000));
    expect(later).toEqual(['entered', 'entered', 'entered', 'entered', 'wait 10']);
  });

  it('from every other address all the while', () => {
    const gate = createUploadGate(bounds);
    for (let at = 0; at < 5; at += 1) send(gate, '192.0.2.1');
    expect(send(gate, '192.0.2.2')).toBe('entered');
  });

  it('so many at once of one address, and so many at once of all', () => {
    const gate = createUploadGate(bounds);
    const held = [hold(gate, '192.0.2.1'), hold(gate, '192.0.2.1'), hold(gate, '192.0.2.2')];
    expect(held.map(({ outcome }) => outcome)).toEqual(['entered', 'entered', 'entered']);
    expect(send(gate, '192.0.2.3')).toBe('busy');
    const [first] = held;
    if (first?.outcome !== 'entered') throw new Error('the first was let in');
    first.leave();
    expect(send(gate, '192.0.2.1')).toBe('entered');
    expect(send(gate, '192.0.2.3')).toBe('entered');
    // Leaving twice makes no room for two.
    first.leave();
    expect(hold(gate, '192.0.2.3').outcome).toBe('entered');
    expect(send(gate, '192.0.2.4')).toBe('busy');
  });

  it('and two addresses that send as many as they may leave a third its place to be read', () => {
    const gate = createUploadGate();
    const held = ['192.0.2.1', '192.0.2.2'].flatMap((address) =>
      Array.from({ length: 6 }, () => hold(gate, address)),
    );
    // One is read while four wait, and whoever comes then is told to come back.
    expect(held.filter(({ outcome }) => outcome === 'entered').length).toBeLessThan(1 + 4);
    expect(hold(gate, '192.0.2.3').outcome).toBe('entered');
  });

  it('and a file for which there was no room is not held against anybody', () => {
    const gate = createUploadGate({ ...bounds, atOnceMax: 1 });
    const held = hold(gate, '192.0.2.1');
    for (let at = 0; at < 9; at += 1) expect(send(gate, '192.0.2.2')).toBe('busy');
    if (held.outcome === 'entered') held.leave();
    expect(send(gate, '192.0.2.2')).toBe('entered');
  });

  it('also when more addresses send than anybody remembers', () => {
    const gate = createUploadGate(bounds);
    for (let at = 0; at < 30_000; at += 1)
      send(gate, `10.${at >> 16}.${(at >> 8) & 255}.${at & 255}`);
    for (let at = 0; at < 4; at += 1) expect(send(gate, '192.0.2.1')).toBe('entered');
    expect(send(gate, '192.0.2.1')).toBe('wait 10');
  });
});

it.each([
  ['192.0.2.1', '192.0.2.1'],
  ['::ffff:192.0.2.1', '::ffff:192.0.2.1'],
  ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2'],
  ['2001:db8:1:2::1', '2001:db8:1:2'],
  ['2001:db8::1', '2001:db8:0:0'],
  ['::1', '0:0:0:0'],
  ['fe80::', 'fe80:0:0:0'],
])('the addresses of one home count as one: %s', (address, network) => {
  expect(networkOf(address)).toBe(network);
});
