import { randomBytes } from 'node:crypto';
import { appendJournal } from '../src/journal/index.ts';
import { hashOfToken } from '../src/platform/access/token.ts';
import type { Clock } from '../src/platform/clock.ts';
import type { Database } from '../src/platform/database/database.ts';
import { inTx } from '../src/platform/database/in-tx.ts';
import type { Ids } from '../src/platform/ids.ts';
import { company, type StaffKey, staff } from './company.ts';

/** One member of the invented staff, with a bearer token that opens the API as them. */
export interface LoadedStaff {
  id: string;
  token: string;
}

interface Deps {
  db: Database;
  clock: Clock;
  ids: Ids;
  /** Without it there are people, and nobody has said yet who the company is. */
  isSetUp?: boolean;
}

/**
 * Puts the invented company and its staff into an empty database, and gives everybody a token.
 * Where they are there already, only new tokens are given.
 */
export async function loadCompany(deps: Deps): Promise<Record<StaffKey, LoadedStaff>> {
  const now = deps.clock.now();
  const { isSetUp = true } = deps;
  return inTx(deps.db, async (tx) => {
    const doer = { tx, now, newId: () => deps.ids.next() };
    if (isSetUp && (await tx.company.count()) === 0) {
      await tx.company.create({ data: company });
      await appendJournal(doer, {
        event: 'company.set_up',
        subject: { kind: 'company', id: '1' },
        after: company,
      });
    }
    const loaded: [StaffKey, LoadedStaff][] = [];
    for (const member of staff) loaded.push([member.key, await loadMember(doer, member)]);
    return Object.fromEntries(loaded) as Record<StaffKey, LoadedStaff>;
  });
}

type Doer = Parameters<typeof appendJournal>[0];

async function loadMember(doer: Doer, member: (typeof staff)[number]): Promise<LoadedStaff> {
  const { key: _, ...data } = member;
  const known = await doer.tx.staff.findFirst({ where: { name: member.name } });
  const id = known?.id ?? doer.newId();
  if (known === null) {
    await doer.tx.staff.create({ data: { ...data, id, createdAt: doer.now } });
    await appendJournal(doer, {
      event: 'staff.added',
      subject: { kind: 'staff', id },
      after: { role: member.role },
    });
  }
  const token = randomBytes(32).toString('base64url');
  await doer.tx.staffToken.create({
    data: {
      id: doer.newId(),
      staffId: id,
      tokenHash: hashOfToken(token),
      createdAt: doer.now,
    },
  });
  return { id, token };
}
