import { expect, test } from 'vitest';
import { type Nameplate, type Part, partFits, type TaskCode } from '../../src/trade/index.ts';
import { condenserNameplate } from './make-evidence.ts';

const dual = (hermUf: number, fanUf: number, voltsMax: number): Part => ({
  category: 'dual_run_capacitor',
  specs: { hermUf, fanUf, voltsMax },
});
const single = (microfarads: number, voltsMax: number): Part => ({
  category: 'run_capacitor',
  specs: { microfarads, voltsMax },
});
const contactor = (poles: number, ampsMax: number, coilVolts = 24): Part => ({
  category: 'contactor',
  specs: { poles, ampsMax, coilVolts },
});
const transformer = (va: number, secondaryVolts = 24): Part => ({
  category: 'transformer',
  specs: { va, secondaryVolts },
});
const gas = (refrigerant: string): Part => ({ category: 'refrigerant', specs: { refrigerant } });
const outdoorUnit = (refrigerant: string, tons: number): Part => ({
  category: 'outdoor_unit',
  specs: { refrigerant, tons },
});
const fuse = (amps: number): Part => ({ category: 'control_fuse', specs: { amps } });

// Common practice, no source: equal uF in every section, voltage never lower, fuse never up-sized.
const rows: [
  name: string,
  task: TaskCode,
  part: Part,
  plate: Partial<Nameplate>,
  refusal?: RegExp,
][] = [
  ['the nameplate dual capacitor', 'replace_dual_run_capacitor', dual(45, 5, 440), {}],
  [
    '440 V for a 370 V original',
    'replace_dual_run_capacitor',
    dual(45, 5, 440),
    { capacitorVolts: 370 },
  ],
  [
    '370 V for a 440 V original',
    'replace_dual_run_capacitor',
    dual(45, 5, 370),
    {},
    /370 V.*440 V/,
  ],
  [
    'the blower can for the blower',
    'replace_blower_run_capacitor',
    single(10, 440),
    { capacitorBlowerUf: 10 },
  ],
  [
    'the compressor can for the blower',
    'replace_blower_run_capacitor',
    single(45, 440),
    { capacitorBlowerUf: 10 },
    /45 uF.*10 uF/,
  ],
  ['the transformer of the plate', 'replace_transformer', transformer(40), { transformerVa: 40 }],
  ['a larger transformer', 'replace_transformer', transformer(75), { transformerVa: 40 }],
  [
    'a smaller transformer',
    'replace_transformer',
    transformer(40),
    { transformerVa: 75 },
    /40 VA.*75 VA/,
  ],
  [
    'a transformer of 120 V secondary',
    'replace_transformer',
    transformer(40, 120),
    { transformerVa: 40 },
    /120 V/,
  ],
  ['a transformer nobody looked at', 'replace_transformer', transformer(40), {}, /Record the VA/],
  ['the refrigerant of the plate', 'add_refrigerant', gas('R-410A'), { refrigerant: 'R410A' }],
  // 40 CFR 82 subpart G, appendix W: flammable refrigerants in equipment made for them only.
  [
    'R-454B into an R-410A unit',
    'add_refrigerant',
    gas('R-454B'),
    { refrigerant: 'R-410A' },
    /R-454B.*R-410A/,
  ],
  [
    'R-22 into an R-407C unit',
    'add_refrigerant',
    gas('R-22'),
    { refrigerant: 'R-407C' },
    /R-22.*R-407C/,
  ],
  [
    'the same flammable one, however the plate writes it',
    'add_refrigerant',
    gas('R-454B'),
    { refrigerant: 'R454B' },
  ],
  [
    'one that can burn, said so',
    'add_refrigerant',
    gas('R-32'),
    { refrigerant: 'R-410A' },
    /R-32 can burn.*never into another/,
  ],
  ['one no table knows, by its name', 'add_refrigerant', gas('R-290'), { refrigerant: 'R-290' }],
  [
    'another than the unknown one of the plate',
    'add_refrigerant',
    gas('R-410A'),
    { refrigerant: 'R-290' },
    /R-410A.*R-290/,
  ],
  ['a refrigerant into an unread plate', 'add_refrigerant', gas('R-410A'), {}, /Record the refr/],
  [
    'an outdoor unit for what the coil was made for',
    'replace_outdoor_unit',
    outdoorUnit('R-410A', 3),
    { refrigerant: 'R410A', tons: 3 },
  ],
  // 40 CFR 82 subpart G, appendix W: a flammable refrigerant only in equipment made for it.
  [
    'an outdoor unit that asks for another indoor coil',
    'replace_outdoor_unit',
    outdoorUnit('R-454B', 3),
    { refrigerant: 'R-410A', tons: 3 },
    /R-454B.*R-410A.*needs the indoor coil that matches/,
  ],
  [
    'an outdoor unit of a refrigerant that no table knows, for the same',
    'replace_outdoor_unit',
    outdoorUnit('R-290', 3),
    { refrigerant: 'R-290', tons: 3 },
  ],
  [
    'an outdoor unit of a refrigerant that no table knows, for another such',
    'replace_outdoor_unit',
    outdoorUnit('R-290', 3),
    { refrigerant: 'R-600a', tons: 3 },
    /R-290.*R-600a/,
  ],
  [
    'a larger outdoor unit',
    'replace_outdoor_unit',
    outdoorUnit('R-410A', 3.5),
    { refrigerant: 'R-410A', tons: 3 },
    /3\.5 tons.*says 3:/,
  ],
  [
    'an outdoor unit of a size nobody read',
    'replace_outdoor_unit',
    outdoorUnit('R-410A', 3),
    { refrigerant: 'R-410A', tons: undefined },
    /Record the tons/,
  ],
  [
    'an outdoor unit of a refrigerant nobody read',
    'replace_outdoor_unit',
    outdoorUnit('R-410A', 3),
    { refrigerant: undefined, tons: 3 },
    /Record the refrigerant/,
  ],
  [
    'a compressor where an outdoor unit is asked for',
    'replace_outdoor_unit',
    { category: 'compressor', specs: {} },
    { refrigerant: 'R-410A', tons: 3 },
    /not a part of this task/,
  ],
  ['one size up', 'replace_dual_run_capacitor', dual(50, 5, 440), {}, /50 uF.*45 uF/],
  ['a wrong fan section', 'replace_dual_run_capacitor', dual(45, 7.5, 440), {}, /7\.5 uF.*5 uF/],
  ['a single can for the compressor', 'replace_compressor_run_capacitor', single(45, 440), {}],
  ['a single can for the fan', 'replace_fan_run_capacitor', single(5, 440), {}],
  [
    'the fan can for the compressor',
    'replace_compressor_run_capacitor',
    single(5, 440),
    {},
    /5 uF.*45 uF/,
  ],
  [
    'a single can for a dual one',
    'replace_dual_run_capacitor',
    single(45, 440),
    {},
    /not a part of this task/,
  ],
  [
    'no rating on the nameplate',
    'replace_compressor_run_capacitor',
    single(45, 440),
    { capacitorHermUf: undefined },
    /nameplate/,
  ],
  [
    'no voltage on the nameplate',
    'replace_compressor_run_capacitor',
    single(45, 440),
    { capacitorVolts: undefined },
    /nameplate/,
  ],
  ['a contactor of 30 A for 17.9 + 1.1 A', 'replace_contactor', contactor(2, 30), {}],
  ['a contactor of exactly the load', 'replace_contactor', contactor(2, 19), {}],
  [
    'a contactor of exactly 10.3 + 0.8 A',
    'replace_contactor',
    contactor(2, 11.1),
    { compressorRlaAmps: 10.3, fanFlaAmps: 0.8 },
  ],
  ['a contactor just too small', 'replace_contactor', contactor(2, 18), {}, /18 A.*19 A/],
  ['one pole for two', 'replace_contactor', contactor(1, 30), {}, /1 pole/],
  ['one pole where one was', 'replace_contactor', contactor(1, 30), { contactorPoles: 1 }],
  ['two poles on three phases', 'replace_contactor', contactor(2, 30), { phase: 3 }, /3/],
  ['a 240 V coil', 'replace_contactor', contactor(2, 30, 240), {}, /24 V/],
  [
    'load known by MCA alone',
    'replace_contactor',
    contactor(2, 20),
    { compressorRlaAmps: undefined },
    /20 A.*23\.5 A/,
  ],
  [
    'load not known',
    'replace_contactor',
    contactor(2, 40),
    { compressorRlaAmps: undefined, mcaAmps: undefined },
    /nameplate/,
  ],
  ['the fuse of the board', 'replace_control_fuse', fuse(5), { controlFuseAmps: 5 }],
  ['an up-sized fuse', 'replace_control_fuse', fuse(5), { controlFuseAmps: 3 }, /5 A.*3 A/],
  ['a smaller fuse', 'replace_control_fuse', fuse(3), { controlFuseAmps: 5 }, /3 A.*5 A/],
  [
    'fuse value not recorded',
    'replace_control_fuse',
    fuse(5),
    { controlFuseAmps: undefined },
    /nameplate/,
  ],
  [
    'a part on a breaker reset',
    'reset_breaker',
    fuse(5),
    { controlFuseAmps: 5 },
    /not a part of this task/,
  ],
];
test.each(rows)('%s', (_name, task, part, plate, refusal) => {
  const fit = partFits({ ...condenserNameplate, ...plate }, task, part);
  expect(fit.fits).toBe(refusal === undefined);
  if (!fit.fits) expect(fit.refusals.join(' ')).toMatch(refusal ?? /^$/);
});
