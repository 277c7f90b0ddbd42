import type { PaperLanguage } from '../documents/index.ts';
import type { Standing } from './letter.ts';

/** Every word a mail says of its own accord; what the paper says comes with the paper. */
export interface LetterWords {
  hello: (name: string) => string;
  attached: string;
  allAttached: string;
  questions: (phone: string) => string;
  license: (number: string) => string;
  quote: {
    subject: (number: string, company: string) => string;
    revised: (number: string, revision: number, company: string) => string;
    change: (number: string, changed: string, company: string) => string;
    lead: (number: string, street: string) => string;
    changeLead: (number: string, changed: string, street: string) => string;
    replaces: (revision: number) => string;
    found: (names: string) => string;
    notProven: (names: string) => string;
    option: (letter: string | undefined, title: string, total: string) => string;
    no: (total: string) => string;
    noAddsNothing: string;
    /** Of a visit that has no fee. */
    noFree: string;
    until: (day: string) => string;
    answer: (url: string) => string;
    yours: string;
    /** Of one that is not answered from this mail. */
    copy: Record<Standing, (phone: string) => string>;
  };
  acceptance: {
    subject: (number: string, company: string) => string;
    lead: (by: string, number: string, when: string) => string;
    agreed: (title: string, total: string) => string;
    cancel: (day: string) => string;
    notYou: (phone: string) => string;
  };
  decline: {
    subject: (number: string, company: string) => string;
    lead: (by: string, number: string, when: string) => string;
    tells: string;
    danger: (warning: string) => string;
    owed: (total: string) => string;
    owedNothing: string;
    standsAsItWas: (number: string) => string;
    notYou: (phone: string) => string;
  };
  invoice: {
    subject: (number: string, total: string, company: string) => string;
    lead: (number: string, ticket: string, street: string) => string;
    billed: (total: string) => string;
    takenOff: (total: string) => string;
    paid: (total: string) => string;
    paidBack: (total: string) => string;
    pay: (total: string, day: string) => string;
    nothing: string;
    /** Of more that was paid than is owed. */
    owedToYou: (total: string) => string;
    how: (number: string, phone: string, address: string) => string;
    notAsAgreed: (phone: string) => string;
    notAsAgreedSettled: (phone: string) => string;
  };
  creditMemo: {
    subject: (number: string, total: string, company: string) => string;
    /** Of several, whose numbers come in order. */
    subjectOfSeveral: (numbers: string[], total: string, company: string) => string;
    lead: (number: string, invoice: string) => string;
    given: (total: string) => string;
    reason: (reason: string) => string;
  };
  workRecord: {
    done: WorkRecordLead;
    /** Of a job that nothing was done at. */
    found: WorkRecordLead;
    notGone: (phone: string) => string;
    danger: (warning: string) => string;
  };
}

interface WorkRecordLead {
  subject: (street: string, company: string) => string;
  lead: (street: string, ticket: string) => string;
  tells: string;
}

const english: LetterWords = {
  hello: (name) => `Hello ${name},`,
  attached: 'The paper itself is attached as a PDF. Please keep it.',
  allAttached: 'The papers themselves are attached as PDFs. Please keep them.',
  questions: (phone) => `Questions? Call ${phone} or answer this mail.`,
  license: (number) => `License ${number}`,
  quote: {
    subject: (number, company) => `Repair quote ${number} from ${company}`,
    revised: (number, revision, company) =>
      `Repair quote ${number}, revision ${revision}, from ${company}`,
    change: (number, changed, company) =>
      `Change to quote ${changed}: quote ${number} from ${company}`,
    lead: (number, street) =>
      `This is quote ${number} for ${street}: what we found, what would mend it and what it costs.`,
    changeLead: (number, changed, street) =>
      `This is quote ${number} for ${street}. It would add to quote ${changed}, which you agreed to: what else we found, what would mend it and what it costs.`,
    replaces: (revision) => `It is revision ${revision} and replaces the ones before it.`,
    found: (names) => `We found: ${names}.`,
    notProven: (names) => `Not proven, and offered for the owner’s reason: ${names}.`,
    option: (letter, title, total) =>
      letter === undefined ? `${title}: ${total}` : `${letter}. ${title}: ${total}`,
    no: (total) => `If you say no: ${total} for the visit, and nothing more.`,
    noAddsNothing: 'If you say no: nothing is added.',
    noFree: 'If you say no: you pay nothing.',
    until: (day) => `Nothing is done before you say yes. These prices stand until ${day}.`,
    answer: (url) => `Look at it and answer here:\n${url}`,
    yours: 'Whoever has this link can answer for you, so please do not pass it on.',
    copy: {
      waits: (phone) =>
        `This is a copy to look at. It cannot be answered from this mail: call ${phone}.`,
      accepted: () => 'This is a copy to keep: this quote has been accepted.',
      declined: () => 'This is a copy to keep: this quote has been declined.',
      replaced: () => 'This is a copy to keep: a newer revision has taken its place.',
      withdrawn: (phone) =>
        `This is a copy to keep: this quote no longer stands. For a new one call ${phone}.`,
      expired: (phone) =>
        `This is a copy to keep: the time of these prices is over. For new ones call ${phone}.`,
      ended: () =>
        'This is a copy to keep. This job has ended, so there is nothing to answer any more.',
      parent_cancelled: () =>
        'This is a copy to keep. The quote this would change was cancelled, so there is nothing to answer any more.',
    },
  },
  acceptance: {
    subject: (number, company) => `Quote ${number} accepted: receipt from ${company}`,
    lead: (by, number, when) => `${by} said yes to quote ${number} on ${when}.`,
    agreed: (title, total) => `Agreed: ${title}, for ${total} in total.`,
    cancel: (day) => `This yes can be taken back until ${day}. The attached paper says how.`,
    notYou: (phone) => `If you did not agree to this, call ${phone} at once.`,
  },
  decline: {
    subject: (number, company) => `Quote ${number} declined: paper from ${company}`,
    lead: (by, number, when) => `${by} said no to quote ${number} on ${when}.`,
    tells: 'The attached paper says what we found and how the system was left.',
    danger: (warning) => `Please note: ${warning}`,
    owed: (total) => `To pay for the visit: ${total}.`,
    owedNothing: 'There is nothing to pay.',
    standsAsItWas: (number) => `Quote ${number} stands as you agreed to it.`,
    notYou: (phone) => `If this is not what you answered, call ${phone}.`,
  },
  invoice: {
    subject: (number, total, company) => `Invoice ${number} from ${company}: ${total}`,
    lead: (number, ticket, street) => `This is invoice ${number} for job ${ticket} at ${street}.`,
    billed: (total) => `Invoice: ${total}`,
    takenOff: (total) => `Taken off: ${total}`,
    paid: (total) => `Paid: ${total}`,
    paidBack: (total) => `Paid back to you: ${total}`,
    pay: (total, day) => `Total to pay: ${total}, by ${day}.`,
    nothing: 'There is nothing to pay.',
    owedToYou: (total) => `There is nothing to pay. We owe you ${total}.`,
    how: (number, phone, address) =>
      `To pay, call ${phone} or send your payment to ${address}. Name invoice ${number}.`,
    notAsAgreed: (phone) =>
      `If something on it is not as you agreed to it, call ${phone} before you pay.`,
    notAsAgreedSettled: (phone) => `If something on it is not as you agreed to it, call ${phone}.`,
  },
  creditMemo: {
    subject: (number, total, company) => `Credit memo ${number} from ${company}: ${total}`,
    subjectOfSeveral: (numbers, total, company) =>
      `Credit memos ${listed(numbers, 'en')} from ${company}: ${total}`,
    lead: (number, invoice) =>
      `This is credit memo ${number}. It takes something off invoice ${invoice}.`,
    given: (total) => `Taken off: ${total}.`,
    reason: (reason) => `Why: ${reason}`,
  },
  workRecord: {
    done: {
      subject: (street, company) => `What we found and did at ${street}: record from ${company}`,
      lead: (street, ticket) =>
        `This is the record of job ${ticket}: what we found and did at ${street}.`,
      tells: 'It shows what was measured before and after, and every part that was put in.',
    },
    found: {
      subject: (street, company) => `What we found at ${street}: record from ${company}`,
      lead: (street, ticket) => `This is the record of job ${ticket}: what we found at ${street}.`,
      tells: 'It shows what was measured and how the system was left. No work is on it.',
    },
    notGone: (phone) => `If what you called about is not mended, call ${phone}.`,
    danger: (warning) => `Please note: ${warning}`,
  },
};

const spanish: LetterWords = {
  hello: (name) => `Hola, ${name}:`,
  attached: 'El documento va adjunto en PDF. Por favor, guárdelo.',
  allAttached: 'Los documentos van adjuntos en PDF. Por favor, guárdelos.',
  questions: (phone) => `¿Preguntas? Llame al ${phone} o responda a este correo.`,
  license: (number) => `Licencia ${number}`,
  quote: {
    subject: (number, company) => `Presupuesto de reparación ${number} de ${company}`,
    revised: (number, revision, company) =>
      `Presupuesto de reparación ${number}, revisión ${revision}, de ${company}`,
    change: (number, changed, company) =>
      `Cambio al presupuesto ${changed}: presupuesto ${number} de ${company}`,
    lead: (number, street) =>
      `Este es el presupuesto ${number} para ${street}: qué encontramos, cómo se arregla y cuánto cuesta.`,
    changeLead: (number, changed, street) =>
      `Este es el presupuesto ${number} para ${street}. Se sumaría al presupuesto ${changed}, que usted ya aceptó: qué más encontramos, cómo se arregla y cuánto cuesta.`,
    replaces: (revision) => `Es la revisión ${revision} y reemplaza a las anteriores.`,
    found: (names) => `Encontramos: ${names}.`,
    notProven: (names) => `No comprobado, y ofrecido por la razón que da el dueño: ${names}.`,
    option: (letter, title, total) =>
      letter === undefined ? `${title}: ${total}` : `${letter}. ${title}: ${total}`,
    no: (total) => `Si dice que no: ${total} por la visita y nada más.`,
    noAddsNothing: 'Si dice que no: no se agrega nada.',
    noFree: 'Si dice que no: no paga nada.',
    until: (day) =>
      `No se hace nada antes de que usted diga que sí. Estos precios valen hasta ${day}.`,
    answer: (url) => `Véalo y responda aquí:\n${url}`,
    yours: 'Quien tenga este enlace puede responder por usted; por favor, no lo comparta.',
    copy: {
      waits: (phone) =>
        `Esta es una copia para consultar. No se puede responder desde este correo: llame al ${phone}.`,
      accepted: () => 'Esta es una copia para guardar: este presupuesto ya fue aceptado.',
      declined: () => 'Esta es una copia para guardar: este presupuesto no fue aceptado.',
      replaced: () => 'Esta es una copia para guardar: una revisión más nueva lo reemplaza.',
      withdrawn: (phone) =>
        `Esta es una copia para guardar: este presupuesto ya no vale. Para uno nuevo, llame al ${phone}.`,
      expired: (phone) =>
        `Esta es una copia para guardar: el plazo de estos precios terminó. Para otros, llame al ${phone}.`,
      ended: () =>
        'Esta es una copia para guardar. Este trabajo terminó, así que ya no hay nada que responder.',
      parent_cancelled: () =>
        'Esta es una copia para guardar. Se canceló el presupuesto que este modificaría, así que ya no hay nada que responder.',
    },
  },
  acceptance: {
    subject: (number, company) => `Presupuesto ${number} aceptado: recibo de ${company}`,
    lead: (by, number, when) => `${by} dijo que sí al presupuesto ${number} (${when}).`,
    agreed: (title, total) => `Acordado: ${title}, por ${total} en total.`,
    cancel: (day) => `Este sí se puede anular hasta ${day}. El documento adjunto dice cómo.`,
    notYou: (phone) => `Si usted no aceptó esto, llame de inmediato al ${phone}.`,
  },
  decline: {
    subject: (number, company) => `Presupuesto ${number} no aceptado: documento de ${company}`,
    lead: (by, number, when) => `${by} dijo que no al presupuesto ${number} (${when}).`,
    tells: 'El documento adjunto dice qué encontramos y cómo quedó el sistema.',
    danger: (warning) => `Tenga en cuenta: ${warning}`,
    owed: (total) => `A pagar por la visita: ${total}.`,
    owedNothing: 'No hay nada que pagar.',
    standsAsItWas: (number) => `El presupuesto ${number} sigue como usted lo aceptó.`,
    notYou: (phone) => `Si no fue esto lo que usted respondió, llame al ${phone}.`,
  },
  invoice: {
    subject: (number, total, company) => `Factura ${number} de ${company}: ${total}`,
    lead: (number, ticket, street) =>
      `Esta es la factura ${number} del trabajo ${ticket} en ${street}.`,
    billed: (total) => `Factura: ${total}`,
    takenOff: (total) => `Se descontó: ${total}`,
    paid: (total) => `Pagado: ${total}`,
    paidBack: (total) => `Se le reembolsó: ${total}`,
    pay: (total, day) => `Total a pagar: ${total}, a más tardar el ${day}.`,
    nothing: 'No hay nada que pagar.',
    owedToYou: (total) => `No hay nada que pagar. Le debemos ${total}.`,
    how: (number, phone, address) =>
      `Para pagar, llame al ${phone} o envíe su pago a ${address}. Indique la factura ${number}.`,
    notAsAgreed: (phone) => `Si algo no es como usted lo acordó, llame al ${phone} antes de pagar.`,
    notAsAgreedSettled: (phone) => `Si algo no es como usted lo acordó, llame al ${phone}.`,
  },
  creditMemo: {
    subject: (number, total, company) => `Nota de crédito ${number} de ${company}: ${total}`,
    subjectOfSeveral: (numbers, total, company) =>
      `Notas de crédito ${listed(numbers, 'es')} de ${company}: ${total}`,
    lead: (number, invoice) =>
      `Esta es la nota de crédito ${number}. Descuenta algo de la factura ${invoice}.`,
    given: (total) => `Se descuenta: ${total}.`,
    reason: (reason) => `Motivo: ${reason}`,
  },
  workRecord: {
    done: {
      subject: (street, company) =>
        `Lo que encontramos e hicimos en ${street}: registro de ${company}`,
      lead: (street, ticket) =>
        `Este es el registro del trabajo ${ticket}: qué encontramos e hicimos en ${street}.`,
      tells: 'Muestra lo que se midió antes y después, y cada pieza que se instaló.',
    },
    found: {
      subject: (street, company) => `Lo que encontramos en ${street}: registro de ${company}`,
      lead: (street, ticket) =>
        `Este es el registro del trabajo ${ticket}: qué encontramos en ${street}.`,
      tells: 'Muestra lo que se midió y cómo quedó el sistema. No incluye ningún trabajo.',
    },
    notGone: (phone) => `Si lo que usted reportó no quedó arreglado, llame al ${phone}.`,
    danger: (warning) => `Tenga en cuenta: ${warning}`,
  },
};

/** '7 and 8', '7, 8, and 9'. */
function listed(numbers: readonly string[], language: PaperLanguage): string {
  return new Intl.ListFormat(language, { type: 'conjunction' }).format(numbers);
}

export const letterWords: Record<PaperLanguage, LetterWords> = { en: english, es: spanish };
