import { afterAll, beforeAll, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import {
  currentEvidenceRuleset,
  type EquipmentKind,
  evidenceRulesets,
  type FaultCode,
  faultCatalog,
  type Nameplate,
  type PartCategory,
  partCategorySchema,
  partFits,
  partSchema,
  type Remedy,
} from '../../src/trade/index.ts';
import { addSite, arriveAtJob, type Job, outdoorPlate } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/** One machine of every kind and make that a fault of the catalog asks for. */
const machines: { kind: EquipmentKind; nameplate: Nameplate }[] = [
  { kind: 'condensing_unit', nameplate: { ...outdoorPlate, meteringDevice: 'txv' } },
  {
    kind: 'condensing_unit',
    nameplate: { ...outdoorPlate, compressorMotor: 'csr', startCapacitorUfMin: 88 },
  },
  { kind: 'heat_pump', nameplate: { ...outdoorPlate, reversingValveOn: 'cooling' } },
  {
    kind: 'air_handler',
    nameplate: { fanMotor: 'psc', capacitorBlowerUf: 7.5, capacitorVolts: 370, controlFuseAmps: 3 },
  },
  { kind: 'air_handler', nameplate: { fanMotor: 'ecm', controlFuseAmps: 3, transformerVa: 40 } },
  { kind: 'evaporator_coil', nameplate: { meteringDevice: 'txv', refrigerant: 'R-410A' } },
  { kind: 'thermostat', nameplate: {} },
];

const specsOf: Partial<Record<PartCategory, object[]>> = {
  run_capacitor: [45, 5, 7.5].map((microfarads) => ({ microfarads, voltsMax: 440 })),
  dual_run_capacitor: [{ hermUf: 45, fanUf: 5, voltsMax: 440 }],
  contactor: [{ poles: 2, ampsMax: 30, coilVolts: 24 }],
  control_fuse: [{ amps: 3 }],
  transformer: [{ va: 40, secondaryVolts: 24 }],
  refrigerant: [{ refrigerant: 'R-410A' }],
  outdoor_unit: [{ refrigerant: 'R-410A', tons: 3 }],
};

/** A part of every category; the figures match the invented nameplates. */
const parts = partCategorySchema.options.flatMap((category) =>
  (specsOf[category] ?? [{}]).map((specs, index) => ({
    code: `${category}-${index}`,
    name: `${category} ${index}`,
    costCents: 1_000,
    fit: partSchema.parse({ category, specs }),
  })),
);

let service: TestService;
let job: Job;
let machineIds: string[];
beforeAll(async () => {
  service = await createTestService();
  expectStatus(await service.as('owner').post('/v1/price-books', { ...priceBook, parts }), 201);
  const site = await addSite(service);
  machineIds = [];
  for (const machine of machines) {
    const path = `/v1/systems/${site.systemId}/equipment`;
    const added = await service.as('dispatcher').post(path, machine);
    machineIds.push(expectStatus(added, 201).body.id);
  }
  job = await arriveAtJob(service, site);
});
afterAll(() => service.close());

const remedies = faultCatalog.flatMap(({ code, remedies }) =>
  remedies.map((remedy) => [code, remedy.task, remedy] as const),
);

it.each(remedies)(
  '%s is mended by %s, in the class of the catalog and with its parts, and by no part less',
  async (faultCode, taskCode, remedy) => {
    const at = machines.findIndex((machine) => canBeOn(machine, faultCode, remedy));
    const machine = machines[at];
    if (machine === undefined) throw new Error(`no machine here can have ${faultCode}`);
    const finding = { equipmentId: machineIds[at], faultCode, taskCode };
    const answer = await find({ ...finding, parts: partsFor(machine.nameplate, remedy) });
    expect(expectStatus(answer, 201).body).toMatchObject({
      faultCode,
      taskCode,
      remedyClass: remedy.remedyClass,
      standing: 'unproven',
      priceable: false,
    });
    if (remedy.partCategories.length > 0) expectProblem(await find(finding), 'does-not-fit');
  },
);

type Machine = (typeof machines)[number];

/** Whether the fault can be on the machine and the book has every part that mends it there. */
function canBeOn({ kind, nameplate }: Machine, faultCode: FaultCode, remedy: Remedy): boolean {
  const evidence = { equipment: { id: 'm', kind, nameplate }, readings: [], observations: [] };
  const { standing } = evidenceRulesets[currentEvidenceRuleset].weigh(faultCode, evidence);
  if (standing === 'not_applicable') return false;
  return partsFor(nameplate, remedy).length === remedy.partCategories.length;
}

function partsFor(nameplate: Nameplate, { task, partCategories }: Remedy) {
  return partCategories.flatMap((category) => {
    const part = parts.find(
      ({ fit }) => fit.category === category && partFits(nameplate, task, fit).fits,
    );
    return part === undefined ? [] : [{ partCode: part.code, quantity: 1 }];
  });
}

function find(finding: object) {
  return service.as('technician').post(`/v1/visits/${job.visitId}/findings`, finding);
}
