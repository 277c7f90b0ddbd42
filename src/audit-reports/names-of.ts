import type { Dimension } from '../auditing/index.ts';
import type { Sql } from '../platform/database/database.ts';
import { taskWords } from '../trade/index.ts';

/** What a subject is called: a person, a task, a kind of part, a month. */
export type NameOf = (by: Dimension, subject: string) => string;

/** The names of everybody there is, whoever has left among them. */
export async function namesOf(sql: Sql): Promise<NameOf> {
  const found = await sql.query<{ id: string; name: string }>('SELECT id, name FROM staff');
  const people = new Map(found.rows.map(({ id, name }) => [id, name]));
  const tasks = new Map(Object.entries(taskWords).map(([code, { name }]) => [code, name]));
  return (by, subject) => {
    switch (by) {
      case 'technician':
      case 'call_taker':
        return people.get(subject) ?? subject;
      case 'task':
        return tasks.get(subject) ?? subject;
      case 'part_category':
        return subject.replaceAll('_', ' ');
      case 'month':
        return subject;
    }
  };
}
