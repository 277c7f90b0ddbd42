export { type Exported, exportCompany } from './export-company.ts';
export { restoreCompany } from './restore-company.ts';
