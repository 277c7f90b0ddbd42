import type { Exclusion } from '../fault.ts';

/** What must have been looked at before the charge may be blamed for poor pressures. */
export const beforeCharge = [
  {
    statement: 'The filter was looked at: a dirty one lowers the suction like a low charge.',
    doneWhen: [
      { observation: 'filter_dirty', answers: ['yes', 'no'] },
      { point: 'filter_drop', quantity: 'static_pressure' },
    ],
  },
  {
    statement: 'The airflow was verified by the air split or the static pressure.',
    doneWhen: [
      { point: 'supply_air', quantity: 'temperature' },
      { point: 'supply_static', quantity: 'static_pressure' },
      { point: 'supply_air', quantity: 'airflow' },
    ],
  },
  {
    statement: 'Ice was looked for and melted: readings through ice say nothing of the charge.',
    doneWhen: [
      { observation: 'ice_melted_before_measuring', answers: ['yes'] },
      { observation: 'ice_on_coil_or_line', answers: ['no'] },
    ],
  },
] as const satisfies readonly Exclusion[];
