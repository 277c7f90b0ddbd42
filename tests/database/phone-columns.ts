/** Columns of the phone checks and call backs that hold what was said of people, or by them. */
export const personalPhoneColumns = [
  'call_back.note',
  'phone_answer.answer',
  'phone_answer.note',
  'phone_answer.number_value',
  'phone_check.danger_over_note',
  'phone_check.end_note',
] as const;

/** The others that hold words or figures: codes, languages and counts, which name nobody. */
export const plainPhoneColumns = [
  'call_back.outcome',
  'call_back.tries',
  'call_back.version',
  'phone_answer.question_code',
  'phone_answer.sequence',
  'phone_check.danger_code',
  'phone_check.language',
  'phone_check.outcome',
  'phone_check.run',
  'phone_check.script_version',
] as const;
