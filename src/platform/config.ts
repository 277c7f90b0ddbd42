import { isIP } from 'node:net';
import path from 'node:path';
import { z } from 'zod';
import { isOwnMachine } from './is-own-machine.ts';
import { plainWords } from './plain-words.ts';
import { readSecretFiles } from './read-secret-files.ts';

const NOT_POSTGRES = 'must be an address such as postgres://user@localhost:5432/evenhand';
const REPLICA_ALONE =
  'DATABASE_REPLICA_URL: needs DATABASE_URL beside it; the embedded server has no replica';
const NOT_HTTP = 'must be an address beginning with https:// or http://';
const NOT_SMTP = 'must be an address beginning with smtps:// or smtp://';
const TEXT_IN_THE_CLEAR =
  'must begin with https://; http:// is for a gateway on this machine alone';
const MAIL_IN_THE_CLEAR =
  'must begin with smtps:// or have ?requireTLS=true: mail leaves this machine encrypted or not at all';
const NOT_NETWORKS = 'must be addresses or networks joined by commas, such as 10.0.0.0/8,192.0.2.7';

const schema = z.object({
  DATABASE_URL: z.url({ protocol: /^postgres(ql)?$/, error: NOT_POSTGRES }).optional(),
  DATABASE_OWNER_URL: z.url({ protocol: /^postgres(ql)?$/, error: NOT_POSTGRES }).optional(),
  DATABASE_REPLICA_URL: z.url({ protocol: /^postgres(ql)?$/, error: NOT_POSTGRES }).optional(),
  DATABASE_POOL_MAX: z.coerce.number().int().min(1).max(100).default(10),
  DATABASE_WAITING_MAX: z.coerce.number().int().min(1).max(10_000).default(100),
  EVENT_LOOP_DELAY_MAX_MS: z.coerce.number().int().min(50).max(60_000).default(1_000),
  EVENHAND_ROLE: z.enum(['all', 'api', 'worker']).default('all'),
  EVENHAND_DATA_DIR: z.string().min(1).default('.data'),
  HOST: z.string().min(1).default('127.0.0.1'),
  PORT: z.coerce.number().int().min(0).max(65535).default(3000),
  PUBLIC_URL: z.url({ protocol: /^https?$/, error: NOT_HTTP }).optional(),
  LOG_LEVEL: z.enum(['trace', 'debug', 'info', 'warn', 'error', 'fatal', 'silent']).default('info'),
  TRUST_PROXY: z.string().refine(isListOfNetworks, { error: NOT_NETWORKS }).optional(),
  SEAL_EVERY_MS: z.coerce.number().int().min(50).max(60_000).default(500),
  PAPER_KEY_FILE: z.string().min(1).optional(),
  SECOND_FACTOR_KEY_FILE: z.string().min(1).optional(),
  SMTP_URL: z
    .url({ protocol: /^smtps?$/, error: NOT_SMTP, abort: true })
    .refine(isMailEncrypted, { error: MAIL_IN_THE_CLEAR })
    .optional(),
  MAIL_FROM: z.email().optional(),
  TEXT_GATEWAY_URL: z
    .url({ protocol: /^https?$/, error: NOT_HTTP, abort: true })
    .refine(isTextEncrypted, { error: TEXT_IN_THE_CLEAR })
    .optional(),
  TEXT_GATEWAY_TOKEN: z.string().min(1).optional(),
  METRICS_HOST: z.string().min(1).default('127.0.0.1'),
  METRICS_PORT: z.coerce.number().int().min(0).max(65535).optional(),
  API_DOCS: z.enum(['on', 'off']).optional(),
  NODE_ENV: z.string().optional(),
});

/** Settings that let somebody in; each may stand in a file instead, which `<name>_FILE` names. */
const SECRETS = [
  ...(['DATABASE_URL', 'DATABASE_OWNER_URL', 'DATABASE_REPLICA_URL'] as const),
  ...(['SMTP_URL', 'TEXT_GATEWAY_TOKEN'] as const),
];

/** Everything the process takes from its environment, read once. */
export interface Config {
  /** A real server; without it the embedded one is started under `dataDir`. */
  databaseUrl?: string;
  /** The role that owns the schema and runs migrations; `databaseUrl` when not given. */
  databaseOwnerUrl?: string;
  /** A server that follows the one of `databaseUrl`: reports are read there. */
  databaseReplicaUrl?: string;
  databasePoolMax: number;
  /** From where on requests are refused before anything of them is begun. */
  paceLimits: { poolWaitingMax: number; loopDelayMsMax: number };
  dataDir: string;
  /** Whether this process answers requests, seals, delivers and audits beside them, or does both. */
  role: 'all' | 'api' | 'worker';
  host: string;
  port: number;
  /** Where people reach us, for links in problems and papers. */
  publicUrl?: string;
  logLevel: string;
  /** Addresses or networks of proxies whose forwarded headers are believed. */
  trustProxy?: string;
  sealEveryMs: number;
  /** The private key that signs papers; it is made where there is none. */
  paperKeyFile: string;
  /** What the secrets of second factors are sealed with; it is made where there is none. */
  factorKeyFile: string;
  /** The server that takes our mail; without it mails become files below `dataDir`. */
  smtpUrl?: string;
  /** The address that mails are from; the company's own when not given. */
  mailFrom?: string;
  /** Whoever passes short texts on. */
  textGateway?: { url: string; token?: string };
  /** Where figures about the running service are read; nowhere unless given. */
  metrics?: { host: string; port: number };
  /** Whether the interface can be browsed at /docs. */
  isDocumented: boolean;
}

/**
 * Reads the environment.
 * @throws Error naming every mistake at once, so that none is found one restart at a time
 */
export function readConfig(environment: NodeJS.ProcessEnv): Config {
  const set = Object.fromEntries(Object.entries(environment).filter(([, value]) => value !== ''));
  const files = readSecretFiles(set, SECRETS);
  const parsed = schema.safeParse({ ...set, ...files.values }, { error: plainWords });
  const mistakes = (parsed.error?.issues ?? []).map(({ path: [setting], message }) => {
    const name = String(setting);
    return name in files.values ? `${name}_FILE: what it holds ${message}` : `${name}: ${message}`;
  });
  if (set['DATABASE_REPLICA_URL'] || set['DATABASE_REPLICA_URL_FILE']) {
    if (!set['DATABASE_URL'] && !set['DATABASE_URL_FILE']) mistakes.push(REPLICA_ALONE);
  }
  if (!parsed.success || mistakes.length + files.mistakes.length > 0) {
    const all = [...mistakes, ...files.mistakes].map((mistake) => `  ${mistake}`);
    throw new Error(`The configuration has mistakes:\n${all.join('\n')}`);
  }
  return fromEnvironment(parsed.data);
}

/**
 * Names that look like settings of ours and are none, most often mistyped. They are told and not
 * refused: some platforms make names of their own out of a service's name.
 */
export function unknownSettings(environment: NodeJS.ProcessEnv): string[] {
  return Object.keys(environment).filter(
    (name) => name.startsWith('EVENHAND_') && !(name in schema.shape),
  );
}

function fromEnvironment(env: z.output<typeof schema>): Config {
  const dataDir = path.resolve(env.EVENHAND_DATA_DIR);
  return {
    ...(env.DATABASE_URL && { databaseUrl: env.DATABASE_URL }),
    ...(env.DATABASE_OWNER_URL && { databaseOwnerUrl: env.DATABASE_OWNER_URL }),
    ...(env.DATABASE_REPLICA_URL && { databaseReplicaUrl: env.DATABASE_REPLICA_URL }),
    databasePoolMax: env.DATABASE_POOL_MAX,
    paceLimits: {
      poolWaitingMax: env.DATABASE_WAITING_MAX,
      loopDelayMsMax: env.EVENT_LOOP_DELAY_MAX_MS,
    },
    dataDir,
    role: env.EVENHAND_ROLE,
    host: env.HOST,
    port: env.PORT,
    ...(env.PUBLIC_URL && { publicUrl: env.PUBLIC_URL }),
    logLevel: env.LOG_LEVEL,
    ...(env.TRUST_PROXY && { trustProxy: env.TRUST_PROXY }),
    sealEveryMs: env.SEAL_EVERY_MS,
    paperKeyFile: path.resolve(env.PAPER_KEY_FILE ?? path.join(dataDir, 'paper-key.pem')),
    factorKeyFile: path.resolve(
      env.SECOND_FACTOR_KEY_FILE ?? path.join(dataDir, 'second-factor.key'),
    ),
    ...(env.SMTP_URL && { smtpUrl: env.SMTP_URL }),
    ...(env.MAIL_FROM && { mailFrom: env.MAIL_FROM }),
    ...(env.TEXT_GATEWAY_URL && {
      textGateway: {
        url: env.TEXT_GATEWAY_URL,
        ...(env.TEXT_GATEWAY_TOKEN && { token: env.TEXT_GATEWAY_TOKEN }),
      },
    }),
    ...(env.METRICS_PORT !== undefined && {
      metrics: { host: env.METRICS_HOST, port: env.METRICS_PORT },
    }),
    isDocumented: env.API_DOCS ? env.API_DOCS === 'on' : env.NODE_ENV !== 'production',
  };
}

function isListOfNetworks(list: string): boolean {
  return list.split(',').every((entry) => isNetwork(entry.trim()));
}

/** An address, or an address and the length of its prefix (RFC 4632, RFC 4291). */
function isNetwork(entry: string): boolean {
  const [, address = '', length] = /^([^/%]+)(?:\/([1-9]\d{0,2}))?$/.exec(entry) ?? [];
  const family = isIP(address);
  return family !== 0 && (length === undefined || Number(length) <= (family === 4 ? 32 : 128));
}

/** Texts hold links that let customers in, and what the gateway knows us by. */
function isTextEncrypted(address: string): boolean {
  const url = new URL(address);
  return url.protocol === 'https:' || isOwnMachine(url.hostname);
}

/**
 * Whether no mail goes to another machine in the clear, in the options of the library that sends it
 * (`src/delivery/send-by-smtp.ts`): with a password it insists on STARTTLS unless told otherwise.
 */
function isMailEncrypted(address: string): boolean {
  const url = new URL(address);
  if (url.protocol === 'smtps:' || isOwnMachine(url.hostname)) return true;
  const { searchParams, username, password } = url;
  if (searchParams.has('requireTLS')) {
    return searchParams.getAll('requireTLS').every((value) => value === 'true');
  }
  return (username !== '' || password !== '') && !searchParams.has('ignoreTLS');
}
