export { type HeatCategory, heatCategory, heatIndexDegF } from './air/heat-index.ts';
export { assessSystem, type SystemAssessment } from './assess-system.ts';
export { callsPerThousand } from './calls-per-thousand.ts';
export { causeSearch } from './cause-search.ts';
export { cautionsFor } from './cautions-for.ts';
export { checkNameplate, type NameplateRefusal } from './check-nameplate.ts';
export { checkReading, type ReadingRefusal, type Shown } from './check-reading.ts';
export { dueBefore } from './due-before.ts';
export {
  answerSchema,
  compressorMotorSchema,
  type Evidence,
  evidenceSchema,
  fanMotorSchema,
  type Machine,
  meteringDeviceSchema,
  type Nameplate,
  nameplateSchema,
  type Observation,
  observationSchema,
  observationSourceSchema,
  phaseSchema,
  type Reading,
  readingSchema,
  readingSourceSchema,
} from './evidence.ts';
export { excludedPairs } from './excluded-pairs.ts';
export { exclusionsMissing } from './exclusions-missing.ts';
export {
  type FaultCode,
  type FaultEntry,
  faultCatalog,
  faultCodeSchema,
  findFault,
} from './faults/catalog.ts';
export type { Exclusion, Remedy } from './faults/fault.ts';
export {
  type PartOfSystem,
  partOfSystemSchema,
  type RemedyClass,
  remedyClassSchema,
} from './faults/remedy-classes.ts';
export {
  type Comparison,
  comparisonSchema,
  type EarlierVisit,
  lastGood,
} from './last-good.ts';
export { mayBeReadOn, mayBeSeenOn } from './may-be-noted-on.ts';
export { type Advice, adviceSchema } from './next/advise.ts';
export { commonPriors, ownTicketsMin, type Priors, priorsFrom } from './next/priors.ts';
export { type PartFit, partFits } from './part-fits.ts';
export { readsRefrigerant } from './reads-refrigerant.ts';
export { certificateRefusal, section608TypeSchema } from './refrigerant/certificate-refusal.ts';
export { knownRefrigerant } from './refrigerant/known-refrigerant.ts';
export {
  type Refrigerant,
  type RefrigerantCode,
  refrigerantCodeSchema,
  refrigerants,
} from './refrigerant/refrigerants.ts';
export { weightRefusal } from './refrigerant/weight-refusal.ts';
export { remedyFor } from './remedy-for.ts';
export {
  currentEvidenceRuleset,
  type EvidenceRuleset,
  type EvidenceRulesetVersion,
  evidenceRulesets,
  evidenceRulesetVersionSchema,
} from './rulesets.ts';
export { equipmentKindsInSpanish } from './spanish/equipment-kinds.ts';
export { faultsInSpanish } from './spanish/faults.ts';
export { labelInSpanish } from './spanish/label-in-spanish.ts';
export { lookedAtInSpanish } from './spanish/looked-at-in-spanish.ts';
export { partCategoriesInSpanish } from './spanish/part-categories.ts';
export { partInSpanish } from './spanish/part-in-spanish.ts';
export { readingInSpanish } from './spanish/reading-in-spanish.ts';
export { signInSpanish } from './spanish/sign-in-spanish.ts';
export { taskInSpanish } from './spanish/task-in-spanish.ts';
export { tasksInSpanish } from './spanish/tasks.ts';
export {
  evidenceOfMachines,
  type SystemEvidence,
  systemEvidenceSchema,
} from './system-evidence.ts';
export { type TakenReading, type TypedReading, takeReading } from './take-reading.ts';
export { compareWithLimit } from './uncertainty/compare-with-limit.ts';
export { readingUncertainty } from './uncertainty/reading-uncertainty.ts';
export { tellsPresence } from './verdicts/tells-presence.ts';
export {
  type Criterion,
  criterionSchema,
  type Measurement,
  measurementSchema,
  type Standing,
  standingSchema,
} from './verdicts/verdict.ts';
export { type Verdict, verdictSchema } from './weigh.ts';
export { wetAboveDry } from './wet-above-dry.ts';
export { careWords } from './words/care.ts';
export type { CheckWords, PointQuantity } from './words/checks/check.ts';
export { type CheckCode, checkCodeSchema, checkWords } from './words/checks.ts';
export { type EquipmentKind, equipmentKindSchema } from './words/equipment-kinds.ts';
export { type MethodCode, methodAccuracy, methodCodeSchema, methodWords } from './words/methods.ts';
export {
  type ObservationCode,
  observationCodeSchema,
  observationWords,
} from './words/observations.ts';
export { type Part, type PartCategory, partCategorySchema, partSchema } from './words/parts.ts';
export { phaseWords } from './words/phases.ts';
export { type PointCode, pointCodeSchema, pointRange, pointWords } from './words/points.ts';
export {
  type GaugeUnit,
  gaugeUnitSchema,
  printedUnit,
  type Quantity,
  quantitySchema,
  type Unit,
  unitOfQuantity,
  unitSchema,
  unitsOf,
  waysToWrite,
  writtenUnitSchema,
} from './words/quantities.ts';
export { readUnit } from './words/read-unit.ts';
export {
  coveredBy,
  handlesRefrigerant,
  installsEquipment,
  type TaskCode,
  taskCodeSchema,
  taskWords,
} from './words/tasks.ts';
