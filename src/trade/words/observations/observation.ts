/**
 * A thing that is seen, heard or tried, answered yes, no or unknown. `statement` is what a yes
 * says. `by` tells who may ever be asked for it: a homeowner opens no panel, touches no capacitor
 * and pushes in no contactor. `about` tells whether it is seen on one machine, and then counts for
 * that one alone, or, though seen on one, tells of its whole system, whose machines share air and
 * refrigerant, or holds for the house; `on` is the side of the system that has it. `usually` is
 * how often the answer is yes on a call whose cause has nothing to do with it (common practice, no
 * source): it ranks the next checks and never proves anything. `visitDue` marks a yes that no phone
 * call may end with. `excludes` names what cannot be so at the same moment; it is said once, on one
 * of the two.
 */
export type ObservationWords = {
  statement: string;
  by: 'anyone' | 'technician';
  about: 'machine' | 'system' | 'house';
  on: 'outdoor' | 'indoor' | 'any';
  usually: number;
  visitDue?: true;
  excludes?: string;
};
