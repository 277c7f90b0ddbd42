import type { Operation } from './read-contract.ts';

/**
 * Identifiers of things that exist, by the collection they are read from (`tickets`, `quotes`).
 * Answers add to them, so that later requests reach what earlier ones made.
 */
export class KnownThings {
  readonly #ids = new Map<string, string[]>();
  readonly #collections: ReadonlyMap<string, string>;

  constructor(operations: readonly Operation[]) {
    const named = operations.flatMap(({ path }) =>
      [...path.matchAll(/\/([^/{}]+)\/\{(\w+)\}/g)].map(
        ([, collection = '', parameter = '']) => [parameter, collection] as const,
      ),
    );
    this.#collections = new Map([...named, ...Object.entries(OTHER_NAMES)]);
  }

  /** The collection that a field or parameter of this name points into. */
  collectionOf(name: string): string | undefined {
    return this.#collections.get(name);
  }

  add(collection: string, id: string): void {
    const ids = this.#ids.get(collection) ?? [];
    if (ids.includes(id)) return;
    // The first stay, for they are known to be good; of the rest the latest.
    if (ids.length === KEPT_MAX) ids.splice(KEPT_MAX / 2, 1);
    ids.push(id);
    this.#ids.set(collection, ids);
  }

  of(collection: string): readonly string[] {
    return this.#ids.get(collection) ?? [];
  }

  all(): readonly string[] {
    return [...this.#ids.values()].flatMap((ids) => ids.slice(-5));
  }

  /** Keeps every identifier that an answer names. */
  learn({ path }: Pick<Operation, 'path'>, body: unknown): void {
    const own = path.split('/').findLast((part) => part !== '' && !part.startsWith('{')) ?? '';
    this.#learn(ANSWERED_BY[own] ?? own, body, 0);
  }

  #learn(collection: string | undefined, value: unknown, depth: number): void {
    if (depth > DEPTH_MAX) return;
    if (Array.isArray(value)) {
      for (const each of value.slice(0, 5)) this.#learn(collection, each, depth + 1);
      return;
    }
    if (typeof value !== 'object' || value === null) return;
    for (const [name, member] of Object.entries(value)) {
      if (typeof member === 'string') {
        const known = name === 'id' ? collection : this.collectionOf(name);
        if (known !== undefined && (name === 'sha256' || UUID.test(member)))
          this.add(known, member);
      } else {
        this.#learn(name === 'items' ? collection : INSIDE[name], member, depth + 1);
      }
    }
  }
}

const KEPT_MAX = 200;
const DEPTH_MAX = 4;
const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}$/;

/** Fields that name a thing by what it is to another. */
const OTHER_NAMES: Readonly<Record<string, string>> = {
  occupantId: 'customers',
  approverId: 'customers',
  payerId: 'customers',
  callerId: 'customers',
  toPlaceId: 'stock-places',
  stockPlaceId: 'stock-places',
  helperId: 'technicians',
  changeOrderOf: 'quotes',
  findingIds: 'findings',
  didNotCure: 'findings',
  optionId: 'options',
};

/** Acts that answer with a thing of another collection than their own address names. */
const ANSWERED_BY: Readonly<Record<string, string>> = {
  plans: 'day-plans',
  bills: 'imported-bills',
  claim: 'claims',
  rebook: 'visits',
  calls: 'tickets',
  override: 'findings',
};

/** Lists inside a thing. */
const INSIDE: Readonly<Record<string, string>> = { options: 'options', equipment: 'equipment' };
