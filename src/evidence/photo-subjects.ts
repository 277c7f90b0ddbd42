/** What a photo of a visit may show. */
export const photoSubjects = ['meter_face', 'nameplate', 'old_part', 'place', 'other'] as const;
export type PhotoSubject = (typeof photoSubjects)[number];

/** What is meant by each. */
export const photoSubjectWords: Record<PhotoSubject, string> = {
  meter_face: 'The display of the meter, or the gauge, with its figure.',
  nameplate: 'The plate of a machine or the label of a part.',
  old_part: 'The part that failed, in place or taken out.',
  place: 'The machine and what is around it.',
  other: 'Anything else.',
};
