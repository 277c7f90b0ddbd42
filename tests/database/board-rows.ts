import { agreementRow, id, ids, insert, type Row, type Statement, ticketRow } from './rows.ts';

const now = '2026-07-15T19:00:00Z';

/** What the dispatcher's day of the stock is made of. */
export const board = {
  week: id(1_501),
  absence: id(1_502),
  certificate: id(1_503),
  helper: id(1_504),
  /** The phone check of the stock's ticket: not ended. */
  check: id(1_505),
  /** Of the other ticket: ended in a danger. */
  dangerous: id(1_506),
  callBack: id(1_507),
  dueTicket: id(1_508),
  plan: id(1_509),
  feed: id(1_510),
  override: id(1_511),
} as const;

export function boardRows(): Statement[] {
  return [
    policyRow({ id: 1 }),
    profileRow({ technician_id: ids.technician }),
    weekRow({ id: board.week }),
    absenceRow({ id: board.absence }),
    certificateRow({ id: board.certificate }),
    helperRow({ id: board.helper }),
    phoneCheckRow({ id: board.check }),
    phoneCheckRow({
      ...{ id: board.dangerous, ticket_id: ids.otherTicket },
      ...{ outcome: 'danger', danger_code: 'gas_smell', ended_at: now },
    }),
    phoneAnswerRow(),
    callBackRow({ id: board.callBack }),
    overrideRow({ id: board.override }),
    insert('day_weather', { day: '2026-07-15', high_deg_f: 101, relative_humidity_percent: 55 }),
    scheduleRow({ agreement_id: ids.agreement }),
    ticketRow({ id: board.dueTicket, kind: 'maintenance' }),
    dueRow({ ticket_id: board.dueTicket }),
    planRow({ id: board.plan }),
    planUseRow(),
    feedRow({ id: board.feed }),
  ];
}

export function policyRow(change: Row = {}): Statement {
  return insert('dispatch_policy', {
    ...{ id: 2, road_factor: 1.3, mph: 28, park_minutes: 5, windows: '[]', usual_minutes: 75 },
    ...change,
  });
}

export function profileRow(change: Row = {}): Statement {
  return insert('technician_profile', {
    ...{ technician_id: ids.otherTechnician, skills: ['cooling'] },
    ...change,
  });
}

export function weekRow(change: Row = {}): Statement {
  return insert('work_week', {
    ...{ id: id(1_521), technician_id: ids.technician, valid_from: '2026-01-01', hours: '[]' },
    ...{ created_at: now, created_by_id: ids.owner },
    ...change,
  });
}

export function absenceRow(change: Row = {}): Statement {
  return insert('work_absence', {
    ...{ id: id(1_522), technician_id: ids.technician, why: 'day_off', hours: '[]' },
    ...{ first_day: '2026-07-20', last_day: '2026-07-24' },
    ...{ created_at: now, created_by_id: ids.owner },
    ...change,
  });
}

export function certificateRow(change: Row = {}): Statement {
  return insert('certificate', {
    ...{ id: id(1_523), staff_id: ids.technician, kind: 'state_license', number: 'L-1' },
    ...{ issued_on: '2025-01-01', expires_on: '2027-01-01' },
    ...{ created_at: now, created_by_id: ids.owner },
    ...change,
  });
}

/** The second week of July, beside that of the stock. */
export function helperRow(change: Row = {}): Statement {
  return insert('helper_days', {
    ...{ id: id(1_524), helper_id: ids.otherTechnician, technician_id: ids.technician },
    ...(change['id'] === board.helper
      ? { first_day: '2026-07-01', last_day: '2026-07-05' }
      : { first_day: '2026-07-06', last_day: '2026-07-12' }),
    ...{ created_at: now, created_by_id: ids.owner },
    ...change,
  });
}

export function phoneCheckRow(change: Row = {}): Statement {
  return insert('phone_check', {
    ...{ id: id(1_525), ticket_id: ids.ticket, run: 1, script_version: 'phone-1', language: 'en' },
    ...{ started_at: now, started_by_id: ids.owner },
    ...change,
  });
}

export function phoneAnswerRow(change: Row = {}): Statement {
  return insert('phone_answer', {
    ...{ phone_check_id: board.check, sequence: 1, question_code: 'gas_smell', answer: 'no' },
    ...{ answered_at: now, recorded_by_id: ids.owner },
    ...change,
  });
}

export function callBackRow(change: Row = {}): Statement {
  return insert('call_back', {
    ...{ id: id(1_526), ticket_id: ids.ticket, due_at: now, created_at: now },
    ...change,
  });
}

export function overrideRow(change: Row = {}): Statement {
  return insert('priority_override', {
    ...{ id: id(1_527), ticket_id: ids.ticket, rank: 1, reason: 'A baby in the house.' },
    ...{ created_at: now, created_by_id: ids.owner },
    ...change,
  });
}

export function scheduleRow(change: Row = {}): Statement {
  return insert('maintenance_schedule', {
    ...{ agreement_id: id(95), months: [4, 10], minutes: 60 },
    ...change,
  });
}

/** An agreement of the year after, with its schedule. */
export function nextYear(change: Row = {}): Statement[] {
  return [agreementRow(), scheduleRow(change)];
}

export function dueRow(change: Row = {}): Statement {
  return insert('maintenance_due', {
    ...{ ticket_id: id(39), agreement_id: ids.agreement, due_month: '2026-04-01' },
    ...change,
  });
}

export function planRow(change: Row = {}): Statement {
  return insert('day_plan', {
    ...{ id: id(1_528), day: '2026-07-16', rests_on: '{}', content: '{}' },
    ...{ created_at: now, created_by_id: ids.owner },
    ...change,
  });
}

export function planUseRow(change: Row = {}): Statement {
  return insert('day_plan_use', {
    ...{ day_plan_id: board.plan, used_at: now, used_by_id: ids.owner },
    ...change,
  });
}

export function feedRow(change: Row = {}): Statement {
  return insert('calendar_feed', {
    ...{
      id: id(1_529),
      technician_id: ids.technician,
      token_hash: Buffer.from(String(change['id'])),
    },
    ...{ created_at: now, created_by_id: ids.owner },
    ...change,
  });
}
