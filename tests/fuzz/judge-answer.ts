import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { problemCatalog } from '../../src/platform/http/problem-catalog.ts';
import type { Operation, Schema } from './read-contract.ts';
import type { WireAnswer } from './send-request.ts';

/** What is wrong with an answer to a request of one operation, or to one that went astray. */
export type Judge = (answer: WireAnswer, operation: Operation | undefined) => string[];

/**
 * Judges by the committed contract alone, with a validator of somebody else: the service's own
 * schemas could be wrong together with what they let out.
 */
export function judgeBy(document: Schema): Judge {
  const ajv = new Ajv2020({ strict: false, allErrors: false, validateFormats: true });
  addFormats.default(ajv);
  ajv.addSchema(document, 'contract');
  const schemaErrors = (pointer: string, body: unknown): string[] => {
    const validate = ajv.getSchema(`contract#${pointer}`);
    if (validate === undefined) return [`the contract has nothing at ${pointer}`];
    return validate(body) ? [] : [`body: ${ajv.errorsText(validate.errors)}`];
  };
  return (answer, operation) => [
    ...complaintsOfAll(answer),
    ...(answer.status >= 400 && answer.text !== '' ? complaintsOfProblem(answer) : []),
    ...(operation === undefined ? [] : complaintsOfTold(answer, operation, schemaErrors)),
  ];
}

function complaintsOfAll({ status, headers, text }: WireAnswer): string[] {
  const complaints: string[] = [];
  if (status >= 500) complaints.push(`status ${status}`);
  if (headers['x-request-id'] === undefined) complaints.push('no x-request-id');
  const leak = LEAKS.exec(status >= 400 ? text : '') ?? STACK.exec(text.slice(0, 100_000));
  if (leak !== null) complaints.push(`leaks "${leak[0]}"`);
  return complaints;
}

/** Frames of a stack, and what only the inside of the service should know. */
const STACK = /\n\s+at .{0,80}:\d+:\d+|node_modules\//;
const LEAKS =
  /SELECT .{0,80} FROM|INSERT INTO|violates .{0,60} constraint|prisma|\bpg_|is not a function|Cannot read prop|ECONN|\/src\//i;

function complaintsOfProblem({ status, headers, text }: WireAnswer): string[] {
  if (headers['content-type'] !== 'application/problem+json; charset=utf-8') {
    return [`a refusal as ${headers['content-type']}`];
  }
  const problem = parsed(text);
  const missing = ['type', 'title', 'status', 'detail', 'instance', 'code'].filter(
    (name) => !(name in problem),
  );
  if (missing.length > 0) return [`a problem without ${missing.join(', ')}`];
  const kind = new Map<unknown, { status: number; title: string }>(
    Object.entries(problemCatalog),
  ).get(problem['code']);
  if (kind === undefined) return [`a problem that is in no catalog: ${problem['code']}`];
  return kind.status === status && problem['status'] === status && kind.title === problem['title']
    ? []
    : [`a problem that says ${problem['status']} ${problem['title']}`];
}

function complaintsOfTold(
  { status, headers, text }: WireAnswer,
  operation: Operation,
  schemaErrors: (pointer: string, body: unknown) => string[],
): string[] {
  const told = operation.responses.get(status);
  if (told === undefined) return [`status ${status} is not in the contract`];
  if (status === 304) return text === '' ? [] : ['304 with a body'];
  const mediaType = headers['content-type'] ?? 'none';
  const form = told.mediaTypes.find(
    (each) => each === mediaType || mediaType === `${each}; charset=utf-8`,
  );
  if (form === undefined) return [`content type ${mediaType} is not in the contract`];
  const complaints: string[] = [];
  const mustHaveTag = status === 200 && operation.method === 'GET' && operation.isVersioned;
  if (mustHaveTag && headers['etag'] === undefined) complaints.push('no ETag');
  if (!form.includes('json')) return complaints;
  const body = parsed(text);
  const pointer = [
    ...['paths', operation.path, operation.method.toLowerCase(), 'responses', String(status)],
    ...['content', form, 'schema'],
  ];
  complaints.push(...schemaErrors(pointer.map((each) => `/${escaped(each)}`).join(''), body));
  if (status >= 400 && !told.slugs.includes(String(body['code']))) {
    complaints.push(`${body['code']} is not among the problems of ${status}`);
  }
  return complaints;
}

function parsed(text: string): Record<string, unknown> {
  try {
    return JSON.parse(text);
  } catch {
    return {};
  }
}

/** RFC 6901, as a fragment of an address. */
function escaped(name: string): string {
  return encodeURIComponent(name.replaceAll('~', '~0').replaceAll('/', '~1'));
}
