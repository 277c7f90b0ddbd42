import { describe, expect, it } from 'vitest';
import { isUnchanged, requireMatch, versionTag } from '../../src/platform/http/etag.ts';
import { ProblemError } from '../../src/platform/http/problem.ts';

describe('entity tags (RFC 9110, section 8.8.3)', () => {
  it('are strong and quoted', () => {
    expect(versionTag(3)).toBe('"v3"');
    expect(versionTag(3, '-expired')).toBe('"v3-expired"');
  });
});

describe('If-Match (RFC 9110, section 13.1.1: strong comparison)', () => {
  it.each(['"v3"', '*', '"v2", "v3"', ' "v3" '])('lets %s change version 3', (header) => {
    expect(() => requireMatch(header, '"v3"')).not.toThrow();
  });

  it.each([undefined, '', '"v2"', 'v3', 'W/"v3"', '"v33"', '"v2", "v4"'])(
    'refuses to let %s change version 3, and names the present version',
    (header) => {
      expect(() => requireMatch(header, '"v3"')).toThrow(
        expect.objectContaining({
          constructor: ProblemError,
          slug: 'version-changed',
          extensions: { currentETag: '"v3"' },
        }),
      );
    },
  );
});

describe('If-None-Match (RFC 9110, section 13.1.2: weak comparison)', () => {
  it.each([
    ['"v3"', true],
    ['W/"v3"', true],
    ['*', true],
    ['"v1", W/"v3"', true],
    ['"v2"', false],
    ['v3', false],
    [undefined, false],
  ])('%s on version 3: unchanged is %s', (header, expected) => {
    expect(isUnchanged(header, '"v3"')).toBe(expected);
  });
});
