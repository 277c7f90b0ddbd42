import type { TestService } from '../harness/test-service.ts';
import type { KnownThings } from './known-things.ts';
import type { Stock } from './recipes/stages.ts';

/** What requests are made against: a company at work, and what is known to be in it. */
export interface World {
  service: TestService;
  known: KnownThings;
  /** What the service has logged of its own mistakes. */
  mistakes: string[];
  /** Jobs that earlier requests have brought so far. */
  stock: Stock;
  /** What several looks look at is made once. */
  once<T>(name: string, make: () => Promise<T>): Promise<T>;
  /** Things every recipe may count on. */
  home: Home;
  /** Another number each time, for what has to be new. */
  next(): number;
}

/** A home with its machine, whose visit is going on, and where parts lie. */
export interface Home {
  siteId: string;
  systemId: string;
  outdoorId: string;
  indoorId: string;
  customerId: string;
  visitId: string;
  shelvesId: string;
  truckId: string;
}

/** What of a request is not left to chance, so that it can succeed. */
export interface Prepared {
  params?: Record<string, string>;
  query?: Record<string, string>;
  body?: Record<string, unknown>;
  file?: { mediaType: string; bytes: Uint8Array };
  /** What an owner shows who asks, where not just any owner may. */
  ownerToken?: string;
  /** Where the version is read, if not at the nearest thing above. */
  tagAt?: string;
  /** The version itself, of what is not read by itself. */
  ifMatch?: string;
  /** It may succeed more than once. */
  lasts?: boolean;
  /** Other requests make it stale: it is prepared anew each time. */
  onlyNow?: boolean;
  /** Keeps what a success has brought about, for others to go on from. */
  leaves?: (answered: { id: string }) => void;
}

/** Brings about the state that an operation needs. */
export type Recipe = (world: World) => Promise<Prepared>;
