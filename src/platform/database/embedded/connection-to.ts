import { readFile } from 'node:fs/promises';
import { SUPERUSER } from './create-cluster.ts';
import type { Room } from './find-room.ts';

export type DatabaseRole = { name: string; password: string };

/** How to reach an embedded server. Every URL holds a password: never log one. */
export type EmbeddedConnection = {
  port: number;
  /** The administrator's URL of the database `postgres`: for creating databases and roles. */
  superuserUrl: string;
  /**
   * The URL of a database for a role; for the administrator when no role is given. The database
   * must have a plain name: clients disagree about escapes in that part of a URL.
   */
  urlFor: (database: string, role?: DatabaseRole) => string;
};

/** Puts together the connection of the room's server. */
export async function connectionTo(room: Room, port: number): Promise<EmbeddedConnection> {
  const password = await readFile(room.passwordFile, 'utf8');
  const superuser: DatabaseRole = { name: SUPERUSER, password };
  const urlFor = (database: string, role: DatabaseRole = superuser) =>
    `postgresql://${encodeURIComponent(role.name)}:${encodeURIComponent(role.password)}` +
    `@127.0.0.1:${port}/${database}`;
  return { port, superuserUrl: urlFor('postgres'), urlFor };
}
