import type { Readable } from 'node:stream';
import type { Logger } from 'pino';
import { z } from 'zod';
import type { Access, Actor } from '../access/actor.ts';
import type { Database, PooledSql, Sql, Tx } from '../database/database.ts';
import type { PrismaClient } from '../database/generated/client.ts';
import type { ProblemError, ProblemExtensions } from './problem.ts';
import type { ProblemSlug } from './problem-catalog.ts';
import type { FileBody } from './sent-file.ts';

/** What every handler gets besides its input. */
interface Context {
  actor: Actor;
  /** The instant of this request, from the injected clock. */
  now: Date;
  requestId: string;
  log: Logger;
}

/** For reading: the typed client and plain SQL, outside any transaction. */
export interface ReadContext extends Context {
  prisma: PrismaClient;
  sql: PooledSql;
}

/** For answering with a file, which may have to be made and kept first. */
export interface BytesContext extends ReadContext {
  db: Pick<Database, 'transact'>;
  newId(): string;
}

/** What rooms add to the context of files, by augmenting it; the platform hands it on unread. */
export type FileTools = Omit<BytesContext, keyof ReadContext | 'db' | 'newId'>;

/** For answering with a stream of events. */
export interface StreamContext extends ReadContext {
  /** Of the last event that the client got before it came back, as it names it. */
  lastEventId: string | undefined;
}

/** What rooms add to the context of streams, by augmenting it; the platform hands it on unread. */
export type StreamTools = Omit<StreamContext, keyof ReadContext | 'lastEventId'>;

/** For doing something: one transaction, which also holds the journal and the first answer. */
export interface ActContext extends Context {
  tx: Tx;
  newId(): string;
  /** Where the request came from, for acts that are signed. */
  origin: { address: string; userAgent?: string };
  /** @throws ProblemError 412 unless the request's If-Match names `etag` */
  mustMatch(etag: string): void;
  /** The full address of a path of ours, as people reach us. */
  addressOf(path: `/${string}`): string;
}

/**
 * For letting people in and out. It opens its own short transactions: a slow hash holds none open, and
 * what was counted stays counted where the rest is refused.
 */
export interface EntranceContext extends Omit<Context, 'actor'> {
  /** Whoever is signed in; undefined where everybody may ask. */
  actor: Actor | undefined;
  /**
   * The hash of the token that was shown, by which its session is found; where everybody may ask, that
   * of the cookie, which may be no session at all.
   */
  shownHash: Uint8Array<ArrayBuffer> | undefined;
  sql: Sql;
  db: Pick<Database, 'transact'>;
  newId(): string;
  origin: { address: string; userAgent?: string };
}

/** What rooms add to the context of entrances, by augmenting it; the platform hands it on unread. */
export type EntranceTools = Omit<
  EntranceContext,
  'actor' | 'now' | 'requestId' | 'log' | 'shownHash' | 'sql' | 'db' | 'newId' | 'origin'
>;

/** An answer as data, so that it can be stored and given again byte for byte. */
export interface Reply<Body> {
  body: Body;
  etag?: string;
  location?: string;
}

/** The answer of an entrance, which may give a browser something to show next time. */
export interface EntranceReply<Body> extends Reply<Body> {
  /** The value of a Set-Cookie header. */
  cookie?: string;
  /** Whoever was signed in is no more, and the browser is to forget what it has of us. */
  isLeft?: true;
}

interface Description {
  /** camelCase verb and noun, unique. */
  operationId: string;
  summary: string;
  description?: string;
  tag: string;
  path: `/${string}`;
  access: Access;
  /** It is of use before the company has been set up; all others are refused until then. */
  isBeforeSetUp?: true;
  /** Problems of this route beyond those that any route of its kind may answer with. */
  problems?: readonly ProblemSlug[];
}

/** What a route that only looks says of itself. */
interface LookDescription extends Description {
  /**
   * It reads over a whole period or the whole company and is nobody's next step in a job: it is read
   * where it keeps no work waiting, and where nothing can be written.
   */
  isReport?: true;
}

/** A route that only looks. */
export interface ReadDefinition<P extends z.ZodType, Q extends z.ZodType, R extends z.ZodType>
  extends LookDescription {
  params?: P;
  query?: Q;
  response: R;
  /** The answer has an ETag, so that who has the present version already is told so by 304. */
  versioned?: boolean;
  handle(
    context: ReadContext,
    input: { params: z.output<P>; query: z.output<Q> },
  ): Promise<Reply<z.input<R>>>;
}

/** A route that creates or does something, in one transaction. */
export interface ActDefinition<
  P extends z.ZodType,
  Q extends z.ZodType,
  B extends z.ZodType,
  R extends z.ZodType,
> extends Description {
  method: 'POST' | 'PATCH';
  params?: P;
  /** For what has no place in the body, because that is a file. */
  query?: Q;
  body?: B;
  /** The body is a file: its schema is `sentFileSchema`. */
  consumes?: FileBody;
  /** For bodies that may be larger than those of other routes. */
  bodyBytesMax?: number;
  response: R;
  /** 201 when the act makes a new resource. */
  status?: 200 | 201;
  /** The resource has versions, so the request must say which one it means. */
  ifMatch?: boolean;
  /**
   * What a repetition is answered with, where the first answer tells a secret that is stored
   * nowhere; the very answer unless given.
   */
  repeated?(body: z.input<R>): z.input<R>;
  /**
   * What a refusal tells besides, such as what would be possible instead. The act is undone by then,
   * so it is read anew, in no transaction.
   */
  besides?(
    context: ReadContext,
    refusal: ProblemError,
    input: { params: z.output<P>; body: z.output<B> },
  ): Promise<ProblemExtensions>;
  handle(
    context: ActContext,
    input: { params: z.output<P>; query: z.output<Q>; body: z.output<B> },
  ): Promise<Reply<z.input<R>>>;
}

/**
 * A route at which people come in and go out. It takes no Idempotency-Key: an answer that tells a
 * token must not be kept, and neither must a quick hash of a request with a password in it.
 */
export interface EntranceDefinition<P extends z.ZodType, B extends z.ZodType, R extends z.ZodType>
  extends Description {
  params?: P;
  body?: B;
  response: R;
  handle(
    context: EntranceContext,
    input: { params: z.output<P>; body: z.output<B> },
  ): Promise<EntranceReply<z.input<R>>>;
}

/** A route that works an answer out of its body and stores nothing, so it needs no key. */
export interface ComputeDefinition<B extends z.ZodType, R extends z.ZodType> extends Description {
  body: B;
  response: R;
  handle(context: ReadContext, input: { body: z.output<B> }): Promise<Reply<z.input<R>>>;
}

/** A route that answers with bytes of another media type than JSON. */
export interface BytesDefinition<P extends z.ZodType, Q extends z.ZodType> extends LookDescription {
  params?: P;
  query?: Q;
  mediaTypes: readonly string[];
  /** Files that others sent in are saved, never opened in the browser. */
  disposition: 'inline' | 'attachment';
  handle(
    context: BytesContext,
    input: { params: z.output<P>; query: z.output<Q> },
  ): Promise<AnsweredFile>;
}

/** A route that goes on telling of events until either side ends it (WHATWG HTML, 9.2). */
export interface StreamDefinition<Q extends z.ZodType> extends Description {
  query?: Q;
  /** @returns frames of `event-frame.ts`, as text */
  handle(context: StreamContext, input: { query: z.output<Q> }): Promise<Readable>;
}

/** A file as an answer; its media type is one of the route's. */
export interface AnsweredFile {
  bytes: Uint8Array;
  mediaType: string;
  etag: string;
  fileName: string;
}

type Nothing = typeof nothing;
/** The schema of an input that a route does not take: any field in it is a mistake. */
export const nothing = z.strictObject({});

// The definitions are erased to one shape here, so that lists of routes of every kind exist. The
// mount validates each input with the schema the handler was typed by.
interface Erased extends Description {
  method: 'GET' | 'POST' | 'PATCH';
  params: z.ZodType;
}
export interface ReadRoute extends Erased, Pick<LookDescription, 'isReport'> {
  kind: 'read';
  method: 'GET';
  query: z.ZodType;
  response: z.ZodType;
  versioned: boolean;
  handle(context: ReadContext, input: { params: never; query: never }): Promise<Reply<unknown>>;
}
export interface ActRoute extends Erased {
  kind: 'act';
  method: 'POST' | 'PATCH';
  query: z.ZodType;
  body: z.ZodType;
  consumes?: FileBody;
  bodyBytesMax?: number;
  response: z.ZodType;
  status: 200 | 201;
  ifMatch: boolean;
  repeated?(body: never): unknown;
  besides?(
    context: ReadContext,
    refusal: ProblemError,
    input: { params: never; body: never },
  ): Promise<ProblemExtensions>;
  handle(
    context: ActContext,
    input: { params: never; query: never; body: never },
  ): Promise<Reply<unknown>>;
}
export interface ComputeRoute extends Erased {
  kind: 'compute';
  method: 'POST';
  query: z.ZodType;
  body: z.ZodType;
  response: z.ZodType;
  handle(context: ReadContext, input: { body: never }): Promise<Reply<unknown>>;
}
export interface BytesRoute extends Erased, Pick<LookDescription, 'isReport'> {
  kind: 'bytes';
  method: 'GET';
  query: z.ZodType;
  mediaTypes: readonly string[];
  disposition: 'inline' | 'attachment';
  handle(context: BytesContext, input: { params: never; query: never }): Promise<AnsweredFile>;
}
export interface StreamRoute extends Erased {
  kind: 'stream';
  method: 'GET';
  query: z.ZodType;
  handle(context: StreamContext, input: { query: never }): Promise<Readable>;
}
export interface EntranceRoute extends Erased {
  kind: 'entrance';
  method: 'POST';
  query: z.ZodType;
  body: z.ZodType;
  response: z.ZodType;
  handle(
    context: EntranceContext,
    input: { params: never; body: never },
  ): Promise<EntranceReply<unknown>>;
}
export type Route = ReadRoute | ActRoute | ComputeRoute | BytesRoute | StreamRoute | EntranceRoute;

/** Declares a route that only looks. */
export function read<
  R extends z.ZodType,
  P extends z.ZodType = Nothing,
  Q extends z.ZodType = Nothing,
>(definition: ReadDefinition<P, Q, R>): ReadRoute {
  return {
    ...definition,
    kind: 'read',
    method: 'GET',
    params: definition.params ?? nothing,
    query: definition.query ?? nothing,
    versioned: definition.versioned ?? false,
  };
}

/** Declares a route that creates or does something. A POST asks for an Idempotency-Key. */
export function act<
  R extends z.ZodType,
  P extends z.ZodType = Nothing,
  B extends z.ZodType = Nothing,
  Q extends z.ZodType = Nothing,
>(definition: ActDefinition<P, Q, B, R>): ActRoute {
  return {
    ...definition,
    kind: 'act',
    params: definition.params ?? nothing,
    query: definition.query ?? nothing,
    body: definition.body ?? nothing,
    status: definition.status ?? 200,
    ifMatch: definition.ifMatch ?? false,
  };
}

/** Declares a route that computes: a POST only because its question is too long for an address. */
export function compute<B extends z.ZodType, R extends z.ZodType>(
  definition: ComputeDefinition<B, R>,
): ComputeRoute {
  return { ...definition, kind: 'compute', method: 'POST', params: nothing, query: nothing };
}

/** Declares a route at which people come in and go out. */
export function entrance<
  R extends z.ZodType,
  P extends z.ZodType = Nothing,
  B extends z.ZodType = Nothing,
>(definition: EntranceDefinition<P, B, R>): EntranceRoute {
  return {
    ...definition,
    kind: 'entrance',
    method: 'POST',
    params: definition.params ?? nothing,
    query: nothing,
    body: definition.body ?? nothing,
  };
}

/** Declares a route that answers with a file. */
export function bytes<P extends z.ZodType = Nothing, Q extends z.ZodType = Nothing>(
  definition: BytesDefinition<P, Q>,
): BytesRoute {
  return {
    ...definition,
    kind: 'bytes',
    method: 'GET',
    params: definition.params ?? nothing,
    query: definition.query ?? nothing,
  };
}

/** Declares a route that answers with a stream of events. */
export function stream<Q extends z.ZodType = Nothing>(
  definition: StreamDefinition<Q>,
): StreamRoute {
  return {
    ...definition,
    kind: 'stream',
    method: 'GET',
    params: nothing,
    query: definition.query ?? nothing,
  };
}
