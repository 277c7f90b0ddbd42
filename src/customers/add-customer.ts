import { randomBytes } from 'node:crypto';
import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Customer } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newCustomerSchema } from './contract.ts';

/** Adds a person we deal with. */
export async function addCustomer(
  act: ActContext,
  input: z.output<typeof newCustomerSchema>,
): Promise<Customer> {
  const customer = await act.tx.customer.create({
    data: {
      id: act.newId(),
      name: input.name,
      phone: input.phone,
      email: input.email ?? null,
      language: input.language,
      journalSalt: randomBytes(16),
      createdAt: act.now,
    },
  });
  await appendJournal(act, {
    event: 'customer.added',
    subject: { kind: 'customer', id: customer.id },
    after: { language: customer.language },
    personal: {
      salt: customer.journalSalt,
      after: { name: customer.name, phone: customer.phone, email: customer.email },
    },
  });
  return customer;
}
