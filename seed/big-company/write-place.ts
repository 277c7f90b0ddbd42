import { describeMachine } from '../../src/equipment/index.ts';
import { dateOfDay } from '../../src/platform/calendar-day.ts';
import type { Member } from './company-plan.ts';
import type { Pen } from './pen.ts';
import type { Machine, Person, Place, PlaceAgreement } from './place.ts';

/** Writes a place with its people, systems and machines, as a dispatcher takes them down. */
export function writePlace(pen: Pen, place: Place, by: Member): void {
  writePerson(pen, place.occupant, place.createdAt, by);
  if (place.approver !== place.occupant) writePerson(pen, place.approver, place.createdAt, by);
  writeSite(pen, place, by);
  if (place.agreement) writeAgreement(pen, place, place.agreement, by);
  for (const { row, outdoor, indoor } of place.systems) {
    pen.add('comfort_system', row);
    pen.note(place.createdAt, by, {
      event: 'system.added',
      subject: { kind: 'system', id: row.id },
      after: { siteId: place.id, name: row.name },
    });
    writeMachine(pen, outdoor, by);
    writeMachine(pen, indoor, by);
  }
}

function writePerson(pen: Pen, person: Person, createdAt: Date, by: Member): void {
  pen.add('customer', { ...person, language: 'en', createdAt });
  pen.note(createdAt, by, {
    event: 'customer.added',
    subject: { kind: 'customer', id: person.id },
    after: { language: 'en' },
    personal: {
      salt: person.journalSalt,
      after: { name: person.name, phone: person.phone, email: person.email },
    },
  });
}

function writeSite(pen: Pen, place: Place, by: Member): void {
  const { id, street, unit, city, postalCode, jurisdiction, accessNotes, altitudeFt, createdAt } =
    place;
  const { latitudeDeg, longitudeDeg } = place;
  const address = { street, unit, city, region: pen.plan.company.region, postalCode };
  const people = {
    occupantId: place.occupant.id,
    approverId: place.approver.id,
    payerId: place.approver.id,
    approverLimitCents: place.approver === place.occupant ? null : 75_000,
  };
  const terms = { jurisdiction, altitudeFt, ...people };
  pen.add('site', { id, ...address, ...terms, accessNotes, latitudeDeg, longitudeDeg, createdAt });
  pen.note(createdAt, by, {
    event: 'site.added',
    subject: { kind: 'site', id },
    after: terms,
    personal: {
      salt: place.occupant.journalSalt,
      after: {
        ...{ ...address, accessNotes },
        ...{ latitudeDeg: String(latitudeDeg), longitudeDeg: String(longitudeDeg) },
      },
    },
  });
}

function writeAgreement(
  pen: Pen,
  { id: siteId, occupant, createdAt }: Place,
  { id, plan, startsOn, endsOn }: PlaceAgreement,
  by: Member,
): void {
  pen.add('site_agreement', {
    ...{ id, siteId, planCode: plan.code, plan: JSON.stringify(plan) },
    startsOn: dateOfDay(startsOn),
    endsOn: dateOfDay(endsOn),
    agreedByName: occupant.name,
    createdAt,
    createdById: by.id,
  });
}

function writeMachine(pen: Pen, { row }: Machine, by: Member): void {
  pen.add('equipment', row);
  pen.note(row.createdAt, by, {
    event: 'equipment.added',
    subject: { kind: 'equipment', id: row.id },
    after: { systemId: row.systemId, ...describeMachine(row) },
  });
}
