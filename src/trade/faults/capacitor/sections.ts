import type { Section } from './weigh-section.ts';

/** What a run capacitor serves, each a section of a dual one or a capacitor of its own. */
export const sections = {
  herm: {
    point: 'capacitor_herm',
    label: 'Run capacitor, compressor section',
    bulged: 'capacitor_herm_bulged_or_leaking',
    servesOutdoorMotor: true,
    ratedUf: (nameplate) => nameplate.capacitorHermUf,
  },
  fan: {
    point: 'capacitor_fan',
    label: 'Run capacitor, fan section',
    bulged: 'capacitor_fan_bulged_or_leaking',
    servesOutdoorMotor: true,
    ratedUf: (nameplate) => nameplate.capacitorFanUf,
  },
  blower: {
    point: 'capacitor_blower',
    label: 'Run capacitor of the blower',
    bulged: 'capacitor_blower_bulged_or_leaking',
    servesOutdoorMotor: false,
    ratedUf: (nameplate) => nameplate.capacitorBlowerUf,
  },
} as const satisfies Record<string, Section>;
