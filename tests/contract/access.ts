import type { Role } from '../../src/platform/access/actor.ts';

type Allowed = 'everybody' | readonly Role[];

const dispatcher = 'dispatcher';
const technician = 'technician';
const owner = 'owner';

/**
 * Who may use which route, written down by hand: a new route is open to nobody until it stands
 * here, and a changed one is a decision that shows in this file.
 */
export const access: Record<string, Allowed> = {
  getCompany: [dispatcher, technician, owner],
  listStaff: [dispatcher, technician, owner],

  publishPriceBook: [owner],
  listPriceBooks: [owner],
  getPriceBookInForce: [owner],
  getPriceBook: [owner],
  listParts: [dispatcher, technician, owner],
  getPriceBookList: [owner],
  beginPriceBookDraft: [owner],
  listPriceBookDrafts: [owner],
  getPriceBookDraft: [owner],
  changePriceBookDraft: [owner],
  getPriceBookDraftList: [owner],
  replacePriceBookDraftList: [owner],
  previewPriceBookDraft: [owner],
  publishPriceBookDraft: [owner],
  dropPriceBookDraft: [owner],
  getVisitFee: [dispatcher, owner],
  listTaxRules: [owner],
  addTaxRule: [owner],
  tryRates: [owner],

  openClaim: [dispatcher, owner],
  listClaims: [dispatcher, owner],
  getClaim: [dispatcher, owner],
  sendClaim: [dispatcher, owner],
  creditClaim: [dispatcher, owner],
  refuseClaim: [dispatcher, owner],

  addConsumerRule: [owner],
  listConsumerRules: [dispatcher, owner],
  confirmConsumerRule: [owner],
  endConsumerRule: [owner],

  addCustomer: [dispatcher, owner],
  findCustomers: [dispatcher, owner],
  getCustomer: [dispatcher, technician, owner],
  changeCustomer: [dispatcher, owner],

  addSite: [dispatcher, owner],
  listSites: [dispatcher, owner],
  getSite: [dispatcher, technician, owner],
  changeSite: [dispatcher, owner],
  listAgreementPlans: [dispatcher, owner],
  addAgreement: [dispatcher, owner],
  listAgreements: [dispatcher, technician, owner],
  getAgreement: [dispatcher, technician, owner],
  endAgreement: [dispatcher, owner],
  addSystem: [dispatcher, technician, owner],
  addEquipment: [dispatcher, technician, owner],
  getEquipment: [dispatcher, technician, owner],
  changeEquipment: [dispatcher, technician, owner],

  openTicket: [dispatcher, owner],
  listTickets: [dispatcher, technician, owner],
  getTicket: [dispatcher, technician, owner],
  resolveTicketByPhone: [dispatcher, owner],
  cancelTicket: [dispatcher, owner],
  closeTicket: [dispatcher, technician, owner],
  reopenTicket: [dispatcher, owner],
  listClosings: [dispatcher, technician, owner],

  bookVisit: [dispatcher, owner],
  listVisits: [dispatcher, technician, owner],
  getVisit: [dispatcher, technician, owner],
  startTravel: [dispatcher, technician, owner],
  arrive: [dispatcher, technician, owner],
  finishVisit: [dispatcher, technician, owner],
  reportNoAccess: [dispatcher, technician, owner],
  cancelVisit: [dispatcher, owner],
  promisePart: [dispatcher, owner],
  listPartWaits: [dispatcher, owner],

  listFaults: [dispatcher, technician, owner],
  getVocabulary: [dispatcher, technician, owner],
  recordReadings: [technician, owner],
  addPhoto: [technician, owner],
  listPhotos: [dispatcher, technician, owner],
  getPhoto: [dispatcher, technician, owner],
  recordObservations: [technician, owner],
  getEvidence: [dispatcher, technician, owner],
  assessVisit: [dispatcher, technician, owner],
  getLastGood: [dispatcher, technician, owner],
  assessEvidence: [dispatcher, technician, owner],
  addFinding: [technician, owner],
  listFindings: [dispatcher, technician, owner],
  overrideFinding: [owner],

  draftQuote: [technician, owner],
  listQuotes: [dispatcher, technician, owner],
  getQuote: [dispatcher, technician, owner],
  getQuotePaper: [dispatcher, technician, owner],
  whyQuote: [dispatcher, technician, owner],
  whyQuoteInWords: [dispatcher, technician, owner],
  reviseQuote: [technician, owner],
  issueQuote: [technician, owner],
  getRepairOrReplace: [dispatcher, technician, owner],
  confirmRefrigerantRules: [owner],
  withdrawQuote: [technician, owner],
  acceptQuote: [dispatcher, technician, owner],
  declineQuote: [dispatcher, technician, owner],

  recordWorkOutcome: [dispatcher, technician, owner],
  recordPartUse: [dispatcher, technician, owner],
  moveRefrigerant: [technician, owner],
  getVisitWork: [dispatcher, technician, owner],

  makeQuoteLink: [dispatcher, technician, owner],
  listQuoteLinks: [dispatcher, technician, owner],
  revokeQuoteLink: [dispatcher, technician, owner],

  enterSupplierBill: [dispatcher, owner],
  loadSupplierBills: [dispatcher, owner],
  listSupplierBills: [dispatcher, owner],
  getSupplierBill: [dispatcher, owner],
  listCostChanges: [owner],
  addStockPlace: [dispatcher, owner],
  listStockPlaces: [dispatcher, technician, owner],
  getStockPlace: [dispatcher, technician, owner],
  changeStockPlace: [dispatcher, owner],
  listStock: [dispatcher, technician, owner],
  listStockMoves: [dispatcher, technician, owner],
  usePart: [dispatcher, technician, owner],
  bringBackPart: [dispatcher, technician, owner],
  carryPart: [dispatcher, owner],
  countPart: [dispatcher, technician, owner],
  addStockTarget: [dispatcher, owner],
  getStockTarget: [dispatcher, technician, owner],
  changeStockTarget: [dispatcher, owner],
  endStockTarget: [dispatcher, owner],
  getReorderList: [dispatcher, owner],
  getReorderTable: [dispatcher, owner],

  listJournal: [owner],
  getJournalTip: [owner],
};

/** Addresses that everybody may read and that are not part of the documented interface. */
export const openAddresses = ['/healthz', '/readyz', '/problems', '/problems/forbidden', '/docs'];
