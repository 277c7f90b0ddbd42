/** What a photo of a visit may show. */
export const photoSubjects = ['meter_face', 'nameplate', 'old_part', 'place', 'other'] as const;
export type PhotoSubject = (typeof photoSubjects)[number];
