import fc from 'fast-check';
import type { z } from 'zod';
import { jpegOf } from '../../seed/jpeg-of.ts';
import type { Route } from '../../src/platform/http/route.ts';
import { hostileInput, hostileText, type KnownIds } from './hostile-input.ts';

/** One request as it goes over the wire. */
export interface HostileRequest {
  path: string;
  query: string;
  body: { mediaType: string; content: string | Buffer } | undefined;
}

/** Requests to one route, well-formed and hostile ones. */
export function hostileRequest(route: Route, ids: KnownIds): fc.Arbitrary<HostileRequest> {
  const path = hostileText(route.params, ids).map((params) =>
    route.path.replace(/:(\w+)/g, (_, name: string) =>
      encodeURIComponent(new Map(params).get(name) ?? 'absent'),
    ),
  );
  const query = hostileText(route.query, ids).map((pairs) => `${new URLSearchParams(pairs)}`);
  return fc.record({ path, query, body: bodyOf(route, ids) });
}

function bodyOf(route: Route, ids: KnownIds): fc.Arbitrary<HostileRequest['body']> {
  if (route.kind === 'compute' || route.kind === 'entrance') return jsonBody(route.body, ids);
  if (route.kind !== 'act') return fc.constant(undefined);
  return route.consumes === undefined ? jsonBody(route.body, ids) : fileBody(route.consumes);
}

function jsonBody(schema: z.ZodType, ids: KnownIds) {
  return hostileInput(schema, ids).map((value) => ({
    mediaType: 'application/json',
    content: JSON.stringify(value),
  }));
}

const billColumns =
  'supplier,number,billed_on,place,part_code,description,quantity,amount,other_charges,total';

const importedColumns =
  'date,technician,complaint,found,done,parts,hours,arrived,left,fee,labor,tax,charged';

/** Beginnings of files that are images or tables, that would be harmful ones, and of nothing. */
const beginnings = [
  `${billColumns}\r\n`,
  `${billColumns}\nLarkmoor Supply,1,2026-07-01,Shelves,FLOAT-1,,1,1,,1\n`,
  `${importedColumns}\n2025-07-03,,,,replaced cap,cap x 1 @ 18.40 = 55.20,1,9:05,10:20,89,,,700\n`,
  '\xff\xd8\xff\xe0',
  Buffer.from(jpegOf('a bulged can')).toString('latin1'),
  '\x89PNG\r\n\x1a\n',
  'RIFF\0\0\0\0WEBP',
  '<svg>',
  '%PDF',
  'up_to,factor\n,2\n',
  '\xef\xbb\xbfcode,name,minutes,access_group,access_minutes\nreset_breaker,"',
  '',
];

function fileBody({ mediaTypes }: { mediaTypes: readonly string[] }) {
  return fc.record({
    mediaType: fc.constantFrom(...mediaTypes, 'application/json', 'image/svg+xml'),
    content: fc
      .tuple(fc.constantFrom(...beginnings), fc.uint8Array({ maxLength: 200 }))
      .map(([beginning, rest]) => Buffer.concat([Buffer.from(beginning, 'latin1'), rest])),
  });
}
