import { createHash } from 'node:crypto';
import { id, ids, insert, type Row, type Statement } from './rows.ts';

const now = '2026-07-15T19:00:00Z';

/** How the people of the stock sign in. */
export const signIn = { session: id(1_701), link: id(1_702), factor: id(1_703) } as const;

export const argon2id =
  '$argon2id$v=19$m=19456,t=2,p=1$nXxH6MWUEGMidiqAcDsnpg$YZxtfK1Ru61KL47ez7Qie4ADtivZ/q90wgbi2nKR12U';

export function signInRows(): Statement[] {
  return [
    passwordRow({ staff_id: ids.technician }),
    sessionRow({ id: signIn.session }),
    signInLinkRow({ id: signIn.link, staff_id: ids.technician }),
    factorRow({ id: signIn.factor, staff_id: ids.owner }),
    recoveryCodeRow({ place: 1 }),
  ];
}

export function passwordRow(change: Row = {}): Statement {
  return insert('staff_password', {
    ...{ staff_id: ids.otherTechnician, hash: argon2id, changed_at: now },
    ...change,
  });
}

export function sessionRow(change: Row = {}): Statement {
  return insert('staff_session', {
    ...{ id: id(1_709), staff_id: ids.technician, carrier: 'cookie', started_at: now },
    ...{ expires_at: '2026-07-16T19:00:00Z', idle_seconds: 3_600 },
    ...{ idle_until: '2026-07-15T20:00:00Z', token_hash: hashOf(change['id']) },
    ...change,
  });
}

export function signInLinkRow(change: Row = {}): Statement {
  return insert('sign_in_link', {
    ...{ id: id(1_719), staff_id: ids.otherTechnician, purpose: 'invitation', created_at: now },
    ...{ created_by_id: ids.owner, expires_at: '2026-07-18T19:00:00Z' },
    ...{ token_hash: hashOf(change['id']) },
    ...change,
  });
}

export function factorRow(change: Row = {}): Statement {
  return insert('staff_second_factor', {
    ...{ id: id(1_729), staff_id: ids.otherTechnician, begun_at: now, confirmed_at: now },
    ...{ last_step: 59_480_280, sealed_secret: Buffer.alloc(48) },
    ...change,
  });
}

export function recoveryCodeRow(change: Row = {}): Statement {
  return insert('staff_recovery_code', {
    ...{ second_factor_id: signIn.factor, place: 2, hash: argon2id },
    ...change,
  });
}

function hashOf(of: unknown): Buffer {
  return createHash('sha256').update(String(of)).digest();
}
