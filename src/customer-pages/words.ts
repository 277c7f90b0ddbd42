import { quoteWords } from '../documents/index.ts';
import { frameWords, type Language } from '../page-frame/index.ts';

/** What is wrong when an answer was not taken. Nothing was recorded then. */
export type Refusal =
  | 'changed'
  | 'reworded'
  | 'expired'
  | 'above_limit'
  | 'answered'
  | 'other_yes'
  | 'not_now'
  | 'price_outdated'
  | 'too_late'
  | 'cross_site'
  | 'unreadable'
  | 'our_mistake';

/** What is agreed to, in figures, for the sentence that is agreed to. */
export interface Agreed {
  option: string;
  total: string;
  quote: string;
  company: string;
}

/** Every word the page says of its own accord. What the quote says comes with the quote. */
export interface Words extends ReturnType<typeof saidOnPaper> {
  skip: string;
  title: (quoteNumber: string) => string;
  numbered: (quoteNumber: string) => string;
  revision: (revision: number) => string;
  /** As part of a sentence. */
  quoteName: (quoteNumber: string, revision: number) => string;
  replacesEarlier: string;
  preparedFor: (name: string, address: string) => string;
  occupant: (name: string) => string;
  validUntil: (day: string) => string;
  atAGlance: string;
  paperIsEnglish: string | undefined;
  measured: string;
  allowed: {
    between: (low: string, high: string) => string;
    atLeast: (low: string) => string;
    atMost: (high: string) => string;
  };
  giveOrTake: (uncertainty: string) => string;
  gaugeLegend: string;
  optionName: (letter: string | undefined, title: string) => string;
  answerWith: (letter: string | undefined) => string;
  declineName: string;
  answerLead: string;
  yesTo: (option: string) => string;
  no: string;
  noCosts: (total: string) => string;
  nothingAdded: string;
  yourName: string;
  nameHint: string;
  consent: (agreed: Agreed) => string;
  agree: string;
  accept: (total: string) => string;
  reason: string;
  optional: string;
  decline: string;
  declineNote: (total: string) => string;
  keepQuote: string;
  /** What is gone with a no. */
  noEnds: string;
  /** What a later yes may cost besides. */
  comeAgain: string;
  sayNo: string;
  aboveLimit: (limit: string) => string;
  /** The same of a second yes, which is below the limit by itself. */
  aboveLimitTogether: (agreedBefore: string, limit: string) => string;
  askPayer: (payer: string) => string;
  paper: string;
  paperHint: string;
  answerPaper: Record<'accepted' | 'declined', string>;
  fingerprint: string;
  fingerprintHint: string;
  questions: (phone: string) => string;
  leave: string;
  opensUntil: (day: string) => string;
  left: { title: string; text: string };
  needsHttps: { title: string; text: string; help: (phone: string) => string };
  mistakes: string;
  mistake: Record<'name' | 'agree' | 'reason' | 'notice', string>;
  refusal: Record<Refusal, { title: string; text: string }>;
  nothingRecorded: string;
  back: string;
  receipt: {
    accepted: string;
    acceptedLead: string;
    visitOnlyLead: string;
    /** What comes after a yes that our staff were not told in person. */
    next: string;
    declined: string;
    declinedLead: string;
    cancelled: string;
    cancelledLead: string;
    /** The titles of the same where somebody else answered at a link of theirs. */
    byOther: Record<'accepted' | 'declined' | 'cancelled', string>;
    what: string;
    who: string;
    when: string;
    how: string;
    through: Record<'staff' | 'link', string>;
    fingerprint: string;
    reason: string;
    owed: string;
    owes: (total: string) => string;
    owesNothing: string;
    fallen: (quoteNumber: string, total: string) => string;
    credited: string;
    found: string;
    left: string;
    danger: string;
    /** Where the answer itself is kept, beside the quote that it is an answer to. */
    keep: (day: string, answer: string, quote: string) => string;
    agreedTo: string;
  };
  cancel: {
    heading: string;
    until: (day: string) => string;
    open: string;
    notice: (agreed: Agreed) => string;
    agree: string;
    button: string;
  };
  closed: Record<
    'expired' | 'withdrawn' | 'replaced' | 'ended' | 'parent_cancelled' | 'holder_replaced',
    { title: string; text: (phone: string) => string }
  >;
  missing: { title: string; text: string; openAgain: string; help: (phone: string) => string };
}

const english: Words = {
  ...saidOnPaper('en'),
  skip: 'Skip to your answer',
  title: (quoteNumber) => `Repair quote ${quoteNumber}`,
  numbered: (quoteNumber) => `Quote ${quoteNumber}`,
  revision: (revision) => `Revision ${revision}`,
  quoteName: (quoteNumber, revision) => `quote ${quoteNumber}, revision ${revision}`,
  replacesEarlier: 'It takes the place of any earlier one you may have seen.',
  preparedFor: (name, address) => `For ${name}, for the service at ${address}`,
  occupant: (name) => `where ${name} lives`,
  validUntil: (day) => `These prices stand until the end of ${day}.`,
  atAGlance: 'At a glance',
  paperIsEnglish: undefined,
  measured: 'We measured',
  allowed: {
    between: (low, high) => `Allowed: ${low} to ${high}`,
    atLeast: (low) => `Allowed: ${low} or more`,
    atMost: (high) => `Allowed: ${high} or less`,
  },
  giveOrTake: (uncertainty) => `give or take ${uncertainty}`,
  gaugeLegend:
    'In each picture the colored band is what is allowed, and the mark is what we measured.',
  optionName: (letter, title) => (letter === undefined ? title : `Option ${letter}: ${title}`),
  answerWith: (letter) => (letter === undefined ? 'Answer' : `Answer with option ${letter}`),
  declineName: 'No, not now',
  answerLead:
    'Take your time. Nothing is ordered until you type your name and press a button below.',
  yesTo: (option) => `Yes, ${option}`,
  no: 'No, not now',
  noCosts: (total) => `${total} for the visit`,
  nothingAdded: 'nothing is added',
  yourName: 'Your full name',
  nameHint: 'It stands for your signature.',
  consent: ({ option, total, quote, company }) =>
    `I accept “${option}” from ${quote}, for ${total} in total, and ask ${company} to do this work as it is written on this page. I have read what was found, the prices, the notes and the terms. My name, typed below, stands for my signature.`,
  agree: 'I agree to this text.',
  accept: (total) => `Accept for ${total}`,
  reason: 'Would you tell us why?',
  optional: 'optional',
  decline: 'Decline the work',
  declineNote: (total) => `Nothing is done. You owe ${total} for the visit.`,
  keepQuote: 'You keep this quote.',
  noEnds: 'With a no, its prices are gone: to have the work done later, call us for a new quote.',
  comeAgain:
    'If we have to come again for that, we tell you the fee of that visit before you book it.',
  sayNo: 'Say no',
  aboveLimit: (limit) => `This is above ${limit}, the most that you may agree to for this address.`,
  aboveLimitTogether: (agreedBefore, limit) =>
    `With the ${agreedBefore} agreed to already, this goes above ${limit}, the most that you may agree to for this address.`,
  askPayer: (payer) =>
    `${payer}, who pays for this address, has to agree. Call us and we will send the quote to ${payer}.`,
  paper: 'The quote as a PDF',
  paperHint: 'To keep or to print.',
  answerPaper: { accepted: 'Your yes as a PDF', declined: 'Your no as a PDF' },
  fingerprint: 'Fingerprint of this quote',
  fingerprintHint: 'Two copies with the same fingerprint are of the same quote, unchanged.',
  questions: (phone) => `Questions? Call ${phone}.`,
  leave: 'Close this quote on this device',
  opensUntil: (day) => `Your link opens this page until ${day}.`,
  left: { title: 'Closed on this device', text: 'Your link opens it again.' },
  needsHttps: {
    title: 'This page needs https',
    text: 'Your link is good, but it was opened over a connection that others can read. A quote is shown only at an address that begins with https.',
    help: (phone) => `Call ${phone}, and we send you that address.`,
  },
  mistakes: 'Something is missing',
  mistake: {
    name: 'Type your full name, up to 200 letters.',
    agree: 'Check the box if you agree to the text.',
    reason: 'Keep the reason below 1,000 letters.',
    notice: 'Check the box if you want to cancel.',
  },
  refusal: {
    changed: {
      title: 'This quote has changed',
      text: 'While your page was open, a newer version was issued. It is shown below. Please read it again before you answer.',
    },
    reworded: {
      title: 'The text above your name has changed a little',
      text: 'The quote itself is the same. Please read the text and answer again.',
    },
    expired: {
      title: 'These prices have run out',
      text: 'The quote ran out before your answer came.',
    },
    above_limit: {
      title: 'Above what you may agree to',
      text: 'The total, with whatever was agreed to already, is above the limit set for this address. Whoever pays has to agree.',
    },
    answered: {
      title: 'This quote has another answer already',
      text: 'It was answered before yours came. That answer is shown below.',
    },
    other_yes: {
      title: 'This form is not for what was agreed',
      text: 'What was agreed is shown below. To cancel it, use the form there.',
    },
    not_now: {
      title: 'This cannot be answered here now',
      text: 'Something about this job has changed meanwhile. Please call us.',
    },
    price_outdated: {
      title: 'This price is out of date',
      text: 'The price has to be worked out again. Please call us for a new quote.',
    },
    too_late: {
      title: 'The time to cancel is over',
      text: 'Please call us if you want to talk about it.',
    },
    cross_site: {
      title: 'Please answer on this page itself',
      text: 'Your answer came from somewhere else than this page. Go back to the quote and send it from there.',
    },
    unreadable: {
      title: 'We could not read that',
      text: 'Go back to the quote and send your answer again.',
    },
    our_mistake: frameWords.en.ourMistake,
  },
  nothingRecorded: 'Nothing was recorded.',
  back: 'Back to the quote',
  receipt: {
    accepted: 'You said yes',
    acceptedLead: 'The work is agreed. This is your receipt.',
    visitOnlyLead: 'The visit is agreed, and no work. This is your receipt.',
    next: 'If our technician is still there, the work goes on now. If not, our office calls to agree on a time. Coming back to do this work has no second visit fee.',
    declined: 'You said no',
    declinedLead: 'No work is ordered. You may call us any time for a new quote.',
    cancelled: 'You cancelled',
    cancelledLead: 'The work that was agreed is cancelled.',
    byOther: {
      accepted: 'This was agreed to',
      declined: 'This was declined',
      cancelled: 'This was cancelled',
    },
    what: 'Agreed',
    who: 'Name',
    when: 'When',
    how: 'How',
    through: { staff: 'Recorded by our staff', link: 'Given on this page' },
    fingerprint: 'Fingerprint',
    reason: 'Reason',
    owed: 'For the visit',
    owes: (total) => `You owe ${total} for the visit.`,
    owesNothing: 'You owe nothing.',
    fallen: (quoteNumber, total) =>
      `Quote ${quoteNumber} for ${total}, a change to this one, is cancelled with it.`,
    credited: 'What was billed for the work is credited.',
    found: 'What was found',
    left: 'How we left the system',
    danger: 'We warned you',
    keep: (day, answer, quote) =>
      `This page shows it again until ${day}. To keep your answer, save “${answer}” below. “${quote}” is as it was before you answered.`,
    agreedTo: 'What you agreed to',
  },
  cancel: {
    heading: 'Changed your mind?',
    until: (day) => `You may cancel until the end of ${day}.`,
    open: 'Cancel what was agreed',
    notice: ({ option, total, quote }) =>
      `I cancel my acceptance of “${option}” from ${quote}, for ${total}. My name, typed below, stands for my signature.`,
    agree: 'Yes, I want to cancel.',
    button: 'Cancel what was agreed',
  },
  closed: {
    expired: {
      title: 'These prices have run out',
      text: (phone) =>
        `They can no longer be accepted. Call ${phone} for a new quote. If you do not want the work, a no is still welcome below.`,
    },
    withdrawn: {
      title: 'This quote was withdrawn',
      text: (phone) => `We took it back, and it cannot be accepted. Call ${phone} to hear why.`,
    },
    replaced: {
      title: 'This quote was replaced',
      text: (phone) => `Another one takes its place. Call ${phone} if you have not received it.`,
    },
    ended: {
      title: 'This quote can no longer be answered',
      text: (phone) => `The job it belongs to is over. Call ${phone} if you want the work.`,
    },
    parent_cancelled: {
      title: 'The quote this would change was cancelled',
      text: (phone) => `Nothing can be added to it any more. Call ${phone} if you want the work.`,
    },
    holder_replaced: {
      title: 'Somebody else answers for this address now',
      text: (phone) =>
        `This quote is for them to read and to answer. If that is wrong, call ${phone}.`,
    },
  },
  missing: {
    title: 'There is no quote here',
    text: 'The link may have run out, may have been replaced by a newer one, or was not copied whole. Open the newest link we sent you.',
    openAgain: 'Open your link again, and then send your answer.',
    help: (phone) => `If it does not open, call ${phone} and we send a new one.`,
  },
};

const spanish: Words = {
  ...saidOnPaper('es'),
  skip: 'Ir a su respuesta',
  title: (quoteNumber) => `Presupuesto de reparación ${quoteNumber}`,
  numbered: (quoteNumber) => `Presupuesto ${quoteNumber}`,
  revision: (revision) => `Revisión ${revision}`,
  quoteName: (quoteNumber, revision) => `presupuesto ${quoteNumber}, revisión ${revision}`,
  replacesEarlier: 'Reemplaza a cualquier versión anterior que haya visto.',
  preparedFor: (name, address) => `Para ${name}, por el servicio en ${address}`,
  occupant: (name) => `donde vive ${name}`,
  validUntil: (day) => `Estos precios valen hasta el ${day} inclusive.`,
  atAGlance: 'En resumen',
  paperIsEnglish:
    'El texto de este presupuesto se emitió en inglés. Si lo necesita en español, llámenos antes de responder.',
  measured: 'Medimos',
  allowed: {
    between: (low, high) => `Permitido: de ${low} a ${high}`,
    atLeast: (low) => `Permitido: ${low} o más`,
    atMost: (high) => `Permitido: ${high} o menos`,
  },
  giveOrTake: (uncertainty) => `más o menos ${uncertainty}`,
  gaugeLegend: 'En cada dibujo la franja de color es lo permitido, y la marca es lo que medimos.',
  optionName: (letter, title) => (letter === undefined ? title : `Opción ${letter}: ${title}`),
  answerWith: (letter) =>
    letter === undefined ? 'Responder' : `Responder con la opción ${letter}`,
  declineName: 'No, ahora no',
  answerLead:
    'Tómese su tiempo. No se ordena ningún trabajo hasta que usted escriba su nombre y presione un botón aquí abajo.',
  yesTo: (option) => `Sí, ${option}`,
  no: 'No, ahora no',
  noCosts: (total) => `${total} por la visita`,
  nothingAdded: 'no se agrega nada',
  yourName: 'Su nombre completo',
  nameHint: 'Vale como su firma.',
  consent: ({ option, total, quote, company }) =>
    `Acepto “${option}” del ${quote}, por ${total} en total, y pido a ${company} que haga este trabajo como está escrito en esta página. He leído lo que se encontró, los precios, las notas y las condiciones. Mi nombre, escrito abajo, vale como mi firma.`,
  agree: 'Estoy de acuerdo con este texto.',
  accept: (total) => `Aceptar por ${total}`,
  reason: '¿Nos diría por qué?',
  optional: 'opcional',
  decline: 'Rechazar el trabajo',
  declineNote: (total) => `No haremos ningún trabajo. Usted debe ${total} por la visita.`,
  keepQuote: 'Puede quedarse con este presupuesto.',
  noEnds:
    'Con un no, sus precios ya no valen: si más adelante quiere el trabajo, llámenos para un presupuesto nuevo.',
  comeAgain:
    'Si para eso tenemos que volver, le decimos la tarifa de esa visita antes de que la reserve.',
  sayNo: 'Rechazar',
  aboveLimit: (limit) => `Supera ${limit}, lo máximo que usted puede aceptar para esta dirección.`,
  aboveLimitTogether: (agreedBefore, limit) =>
    `Junto con los ${agreedBefore} ya aceptados, supera los ${limit}, lo máximo que usted puede aceptar para esta dirección.`,
  askPayer: (payer) =>
    `${payer}, responsable del pago en esta dirección, tiene que estar de acuerdo. Llámenos para enviarle el presupuesto a ${payer}.`,
  paper: 'El presupuesto en PDF',
  paperHint: 'Para guardar o imprimir.',
  answerPaper: { accepted: 'Su sí en PDF', declined: 'Su no en PDF' },
  fingerprint: 'Código de verificación de este presupuesto',
  fingerprintHint: 'Dos copias con el mismo código son del mismo presupuesto, sin ningún cambio.',
  questions: (phone) => `¿Preguntas? Llame al ${phone}.`,
  leave: 'Cerrar este presupuesto en este dispositivo',
  opensUntil: (day) => `Su enlace abre esta página hasta el ${day}.`,
  left: { title: 'Cerrado en este dispositivo', text: 'Su enlace lo abre de nuevo.' },
  needsHttps: {
    title: 'Esta página necesita https',
    text: 'Su enlace es válido, pero se abrió por una conexión que otros pueden leer. Un presupuesto se muestra solo en una dirección que empieza con https.',
    help: (phone) => `Llame al ${phone} y le enviamos esa dirección.`,
  },
  mistakes: 'Falta algo',
  mistake: {
    name: 'Escriba su nombre completo, hasta 200 letras.',
    agree: 'Marque la casilla si está de acuerdo con el texto.',
    reason: 'Escriba la razón en menos de 1,000 letras.',
    notice: 'Marque la casilla si quiere cancelar.',
  },
  refusal: {
    changed: {
      title: 'Este presupuesto cambió',
      text: 'Mientras su página estaba abierta se emitió una versión nueva. Se muestra abajo. Por favor léala de nuevo antes de responder.',
    },
    reworded: {
      title: 'El texto que está encima de su nombre cambió un poco',
      text: 'El presupuesto es el mismo. Por favor lea el texto y responda de nuevo.',
    },
    expired: {
      title: 'Estos precios vencieron',
      text: 'El presupuesto venció antes de que llegara su respuesta.',
    },
    above_limit: {
      title: 'Supera lo que usted puede aceptar',
      text: 'El total, junto con lo ya aceptado, supera el límite fijado para esta dirección. Quien paga tiene que estar de acuerdo.',
    },
    answered: {
      title: 'Este presupuesto ya tiene otra respuesta',
      text: 'Se respondió antes de que llegara la suya. Esa respuesta se muestra abajo.',
    },
    other_yes: {
      title: 'Este formulario no es de lo acordado',
      text: 'Lo acordado se muestra abajo. Para cancelarlo, use el formulario de esta página.',
    },
    not_now: {
      title: 'Ahora no se puede responder aquí',
      text: 'Algo de este trabajo cambió mientras tanto. Por favor llámenos.',
    },
    price_outdated: {
      title: 'Este precio ya no está vigente',
      text: 'Hay que calcular el precio de nuevo. Llámenos para recibir un presupuesto nuevo.',
    },
    too_late: {
      title: 'El plazo para cancelar terminó',
      text: 'Por favor llámenos si quiere hablar sobre esto.',
    },
    cross_site: {
      title: 'Por favor responda en esta misma página',
      text: 'Su respuesta llegó de otro lugar y no de esta página. Vuelva al presupuesto y envíela desde allí.',
    },
    unreadable: {
      title: 'No pudimos leer eso',
      text: 'Vuelva al presupuesto y envíe su respuesta otra vez.',
    },
    our_mistake: frameWords.es.ourMistake,
  },
  nothingRecorded: 'No se registró nada.',
  back: 'Volver al presupuesto',
  receipt: {
    accepted: 'Usted dijo que sí',
    acceptedLead: 'El trabajo está acordado. Este es su comprobante.',
    visitOnlyLead: 'La visita está acordada, y ningún trabajo. Este es su comprobante.',
    next: 'Si nuestro técnico sigue ahí, el trabajo continúa ahora. Si no, nuestra oficina llama para acordar la hora. Volver para hacer este trabajo no tiene una segunda tarifa de visita.',
    declined: 'Usted dijo que no',
    declinedLead:
      'No se ordenó ningún trabajo. Puede llamarnos cuando quiera un presupuesto nuevo.',
    cancelled: 'Usted canceló',
    cancelledLead: 'El trabajo acordado queda cancelado.',
    byOther: {
      accepted: 'Esto se aceptó',
      declined: 'Esto se rechazó',
      cancelled: 'Esto se canceló',
    },
    what: 'Acordado',
    who: 'Nombre',
    when: 'Cuándo',
    how: 'Cómo',
    through: { staff: 'Registrado por nuestro personal', link: 'Respondido en esta página' },
    fingerprint: 'Código de verificación',
    reason: 'Razón',
    owed: 'Por la visita',
    owes: (total) => `Usted debe ${total} por la visita.`,
    owesNothing: 'Usted no debe nada.',
    fallen: (quoteNumber, total) =>
      `El presupuesto ${quoteNumber} por ${total}, que modificaba este, también queda cancelado.`,
    credited: 'Lo que se facturó por el trabajo se acredita.',
    found: 'Lo que se encontró',
    left: 'Cómo dejamos el sistema',
    danger: 'Le advertimos',
    keep: (day, answer, quote) =>
      `Esta página lo muestra de nuevo hasta el ${day}. Para conservar su respuesta, guarde “${answer}”, abajo. “${quote}” es como era antes de que usted respondiera.`,
    agreedTo: 'Lo que usted aceptó',
  },
  cancel: {
    heading: '¿Cambió de opinión?',
    until: (day) => `Puede cancelar hasta el ${day} inclusive.`,
    open: 'Cancelar lo acordado',
    notice: ({ option, total, quote }) =>
      `Cancelo mi aceptación de “${option}” del ${quote}, por ${total}. Mi nombre, escrito abajo, vale como mi firma.`,
    agree: 'Sí, quiero cancelar.',
    button: 'Cancelar lo acordado',
  },
  closed: {
    expired: {
      title: 'Estos precios vencieron',
      text: (phone) =>
        `Ya no se pueden aceptar. Llame al ${phone} para un presupuesto nuevo. Si no quiere el trabajo, todavía puede rechazarlo aquí abajo.`,
    },
    withdrawn: {
      title: 'Este presupuesto se retiró',
      text: (phone) => `Lo retiramos y no se puede aceptar. Llame al ${phone} para saber por qué.`,
    },
    replaced: {
      title: 'Este presupuesto se reemplazó',
      text: (phone) => `Otro ocupa su lugar. Llame al ${phone} si no lo recibió.`,
    },
    ended: {
      title: 'Este presupuesto ya no se puede responder',
      text: (phone) => `Este servicio ya se cerró. Llame al ${phone} si todavía quiere el trabajo.`,
    },
    parent_cancelled: {
      title: 'Se canceló el presupuesto que este modificaba',
      text: (phone) => `Ya no se le puede agregar nada. Llame al ${phone} si quiere el trabajo.`,
    },
    holder_replaced: {
      title: 'Ahora otra persona responde por esta dirección',
      text: (phone) =>
        `A esa persona le toca leer y responder este presupuesto. Si esto es un error, llame al ${phone}.`,
    },
  },
  missing: {
    title: 'Aquí no hay ningún presupuesto',
    text: 'El enlace puede haber vencido, haber sido reemplazado por uno más nuevo o no haberse copiado entero. Abra el enlace más reciente que le enviamos.',
    openAgain: 'Abra su enlace otra vez y luego envíe su respuesta.',
    help: (phone) => `Si no abre, llame al ${phone} y le enviamos uno nuevo.`,
  },
};

export const words: Record<Language, Words> = { en: english, es: spanish };

/** What the page and the paper of the quote say in the same words. */
function saidOnPaper(language: Language) {
  const paper = quoteWords[language];
  return {
    issued: paper.issued,
    findings: paper.findings,
    standing: paper.standing,
    standingMeaning: paper.standingMeaning,
    speaksAgainst: paper.speaksAgainst,
    offeredBecause: paper.offeredBecause,
    verdict: paper.verdict,
    limit: paper.limit,
    doubts: paper.doubts,
    observations: paper.observations,
    beCareful: paper.beCareful,
    options: paper.options,
    subtotal: paper.subtotal,
    lumpSumPrice: paper.lumpSumPrice,
    lumpSumNote: paper.lumpSumNote,
    total: paper.total,
    withTax: paper.withTax,
    declineText: paper.declineText,
    cautions: paper.cautions,
    legal: paper.legal,
    answer: paper.answer,
  };
}
