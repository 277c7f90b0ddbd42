import { quoteWords } from '../documents/index.ts';
import { frameWords, type Language } from '../page-frame/index.ts';

/** Why a file was not read. */
export type Unread =
  | 'no_file'
  | 'empty'
  | 'several_files'
  | 'too_large'
  | 'unreadable'
  | 'busy'
  | 'too_often'
  | 'cross_site'
  | 'our_mistake';

type ToPhone = (phone: string) => string;

/** Every word these pages say of their own accord. What a paper is called comes from the proof. */
export interface Words {
  issued: {
    title: (count: number) => string;
    lead: ToPhone;
    quote: (name: string, revision: number) => string;
    day: Record<
      'quote' | 'acceptance' | 'decline' | 'invoice' | 'credit_memo' | 'work_record',
      string
    >;
    addsTo: string;
    total: (letter: string | undefined) => string;
    fingerprint: string;
  };
  /** What became of it: in a word, and in a sentence. */
  stands: {
    open: Told<[lastDay: string]>;
    expired: Told<[lastDay: string, phone: string]>;
    accepted: Told<[day: string, total: string, letter: string | undefined]>;
    cancelled: Told<[acceptedOn: string, day: string]>;
    declined: Told<[day: string]>;
    withdrawn: Told<[day: string, phone: string]>;
    replaced: Told<[revision: number, day: string, phone: string]>;
    ended: Told<[phone: string]>;
    parent_cancelled: Told<[quote: string, phone: string]>;
    yes: Told<[total: string]>;
    yes_cancelled: Told<[day: string]>;
    no: Told<[]>;
    invoice: Told<[phone: string]>;
    credit_memo: Told<[]>;
    work_record: Told<[]>;
  };
  again: { heading: string; text: string; button: string; asked: string; askedText: ToPhone };
  check: { heading: string; text: string; link: string };
  questions: ToPhone;
  missing: { title: string; text: string; help: ToPhone };
  /** Why the link was not asked for. */
  refused: Record<'cross_site' | 'unreadable', { title: string; text: string }>;
  back: string;
  verify: {
    title: string;
    lead: string;
    file: string;
    hint: string;
    button: string;
    kept: string;
    onPaper: string;
    unread: Record<Unread, { title: string; text: string }>;
    wait: (seconds: number) => string;
    differs: string;
    byteForByte: (day: string) => string;
    whatStands: string;
    inside: string;
    look: string;
    next: string;
    todo: Record<'genuine' | 'genuine_unknown' | 'altered' | 'unsure' | 'cannot_tell', ToPhone>;
    another: string;
  };
}

interface Told<Facts extends unknown[]> {
  word: string;
  text: (...facts: Facts) => string;
}

const english: Words = {
  issued: {
    title: (count) => (count === 1 ? 'We issued this paper' : 'We issued these papers'),
    lead: (phone) =>
      `Hold it against the paper in your hand: number, day and amounts must be the same. If one is not, the paper was changed. Call ${phone}.`,
    quote: (name, revision) => `${name}, revision ${revision}`,
    day: {
      quote: 'Issued',
      acceptance: 'Accepted',
      decline: 'Declined',
      invoice: 'Issued',
      credit_memo: 'Issued',
      work_record: 'Issued',
    },
    addsTo: 'Adds to',
    total: (letter) => (letter === undefined ? 'Total' : `Option ${letter}`),
    fingerprint: quoteWords.en.contentHash,
  },
  stands: {
    open: {
      word: 'Waits for an answer',
      text: (lastDay) => `It can be accepted until the end of ${lastDay}.`,
    },
    expired: {
      word: 'Run out',
      text: (lastDay, phone) =>
        `It could be accepted until the end of ${lastDay}. Call ${phone} for a new quote.`,
    },
    accepted: {
      word: 'Accepted',
      text: (day, total, letter) =>
        letter === undefined
          ? `It was accepted on ${day}, for ${total}.`
          : `Option ${letter} was accepted on ${day}, for ${total}.`,
    },
    cancelled: {
      word: 'Cancelled',
      text: (acceptedOn, day) =>
        `It was accepted on ${acceptedOn}, and that was cancelled on ${day}. No work is agreed under it.`,
    },
    declined: {
      word: 'Declined',
      text: (day) => `It was declined on ${day}. No work is agreed under it.`,
    },
    withdrawn: {
      word: 'Withdrawn',
      text: (day, phone) =>
        `We took it back on ${day}, and it cannot be accepted. Call ${phone} to hear why.`,
    },
    replaced: {
      word: 'Replaced',
      text: (revision, day, phone) =>
        `Revision ${revision} of this quote, issued ${day}, took its place, and this one cannot be accepted. Call ${phone} if you have not received it.`,
    },
    ended: {
      word: 'Closed',
      text: (phone) =>
        `The job was over before anybody accepted it, and it cannot be accepted now. Call ${phone} if you want the work.`,
    },
    parent_cancelled: {
      word: 'Closed',
      text: (quote, phone) =>
        `Quote ${quote}, to which it would add, was cancelled, so it cannot be accepted. Call ${phone} if you want the work.`,
    },
    yes: { word: 'Agreed', text: (total) => `Work for ${total} was agreed.` },
    yes_cancelled: {
      word: 'Cancelled',
      text: (day) => `What was agreed was cancelled on ${day}.`,
    },
    no: { word: 'Declined', text: () => 'No work is agreed under this quote.' },
    invoice: {
      word: 'Issued',
      text: (phone) =>
        `What has been paid or credited since is not shown here. Call ${phone} to ask what is owed.`,
    },
    credit_memo: {
      word: 'Issued',
      text: () => 'It takes its total off the invoice that it names.',
    },
    work_record: { word: 'Issued', text: () => 'It tells what was done and how it was left.' },
  },
  again: {
    heading: 'Lost the link to answer?',
    text: 'This page only shows. It is answered at a link of its own, which we can send once more: to the mail address on file of whoever answers it, and nowhere else.',
    button: 'Send me the link again',
    asked: 'Thank you',
    askedText: (phone) =>
      `If we have a mail address of whoever answers this quote, the link is on its way there. It goes out at most once an hour. Nothing came? Look into the spam folder, or call ${phone}.`,
  },
  check: {
    heading: 'Do you have the file?',
    text: 'Then you can find out whether it is, to the last letter, the one we made.',
    link: 'Check a file',
  },
  questions: (phone) => `Questions? Call ${phone}.`,
  missing: {
    title: 'We issued no paper with this fingerprint',
    text: 'Perhaps the address was not copied whole: scan the code once more, or type the address as it is printed beside the code.',
    help: (phone) =>
      `If this page comes again, do not pay, sign or agree by that paper. Call ${phone} and read us its number.`,
  },
  refused: {
    cross_site: {
      title: 'Please use the button on the page itself',
      text: 'This came from somewhere else than our page, so nothing was sent.',
    },
    unreadable: {
      title: 'We could not read that',
      text: 'Nothing was sent. Go back and press the button once more.',
    },
  },
  back: 'Back to the paper',
  verify: {
    title: 'Is this paper genuine?',
    lead: 'Choose the PDF file that you have. We tell you whether it is the one we made, and if not, what was changed.',
    file: 'The file',
    hint: 'A PDF of up to 10 MB.',
    button: 'Check this file',
    kept: 'The file is read and then thrown away. Nothing of it is kept.',
    onPaper:
      'Do you have it on paper only? Scan the code on its last page, or type the address beside the code: it shows what we issued.',
    unread: {
      no_file: {
        title: 'No file was chosen',
        text: 'Choose the PDF file first, then press the button.',
      },
      empty: {
        title: 'This file is empty',
        text: 'There is nothing in it. Ask for the file as we sent it.',
      },
      several_files: { title: 'One file at a time', text: 'Please choose a single file.' },
      too_large: {
        title: 'This file is too large',
        text: 'It is larger than 10 MB, and so than any paper of ours. Ask for the file as we sent it.',
      },
      unreadable: {
        title: 'The file did not arrive whole',
        text: 'Please choose it and send it once more.',
      },
      busy: {
        title: 'Your file was not read',
        text: 'Many files are being checked just now, or yours took too long to arrive.',
      },
      too_often: {
        title: 'Too many files in a short time',
        text: 'The last one was not read.',
      },
      cross_site: {
        title: 'Please use the form on this page',
        text: 'The file came from somewhere else than this page, so it was not read.',
      },
      our_mistake: {
        title: frameWords.en.ourMistake.title,
        text: 'Something went wrong on our side, so this says nothing about the file. Please try again, or call us.',
      },
    },
    wait: (seconds) =>
      seconds === 1 ? 'Please try again in a second.' : `Please try again in ${seconds} seconds.`,
    differs: 'What differs',
    byteForByte: (day) => `It is byte for byte the file we issued on ${day}.`,
    whatStands: 'What it says, and where it stands',
    inside: 'What we issued',
    look: 'The page of this paper',
    next: 'What to do',
    todo: {
      genuine: () =>
        'You can rely on what the file says. What happened since then is not in it: that is told above.',
      genuine_unknown: (phone) =>
        `You can rely on what the file says. What happened since then is not in it: call ${phone} to hear whether it still stands.`,
      altered: (phone) =>
        `Do not pay, sign or agree by this file. Ask whoever gave it to you where it comes from, and call ${phone}: we send you ours.`,
      unsure: (phone) =>
        `Hold it against what we issued, above. To be sure, call ${phone}: we send you the file as we made it.`,
      cannot_tell: (phone) =>
        `It may still be a copy of a good paper. Scan the code on its last page, or call ${phone} and read us its number: we send you the file as we made it.`,
    },
    another: 'Check another file',
  },
};

const spanish: Words = {
  issued: {
    title: (count) =>
      count === 1 ? 'Nosotros emitimos este documento' : 'Nosotros emitimos estos documentos',
    lead: (phone) =>
      `Compárelo con el papel que tiene en la mano: el número, la fecha y los importes deben ser los mismos. Si alguno no lo es, el papel fue alterado. Llame al ${phone}.`,
    quote: (name, revision) => `${name}, revisión ${revision}`,
    day: {
      quote: 'Emitido',
      acceptance: 'Aceptado',
      decline: 'Rechazado',
      invoice: 'Emitida',
      credit_memo: 'Emitida',
      work_record: 'Emitido',
    },
    addsTo: 'Se agrega a',
    total: (letter) => (letter === undefined ? 'Total' : `Opción ${letter}`),
    fingerprint: quoteWords.es.contentHash,
  },
  stands: {
    open: {
      word: 'Espera una respuesta',
      text: (lastDay) => `Se puede aceptar hasta el ${lastDay} inclusive.`,
    },
    expired: {
      word: 'Vencido',
      text: (lastDay, phone) =>
        `Se podía aceptar hasta el ${lastDay} inclusive. Llame al ${phone} para recibir un presupuesto nuevo.`,
    },
    accepted: {
      word: 'Aceptado',
      text: (day, total, letter) =>
        letter === undefined
          ? `Se aceptó el ${day}, por ${total}.`
          : `El ${day} se aceptó la opción ${letter}, por ${total}.`,
    },
    cancelled: {
      word: 'Cancelado',
      text: (acceptedOn, day) =>
        `Se aceptó el ${acceptedOn} y eso se canceló el ${day}. No hay ningún trabajo acordado con él.`,
    },
    declined: {
      word: 'Rechazado',
      text: (day) => `Se rechazó el ${day}. No hay ningún trabajo acordado con él.`,
    },
    withdrawn: {
      word: 'Retirado',
      text: (day, phone) =>
        `Lo retiramos el ${day} y no se puede aceptar. Llame al ${phone} para saber por qué.`,
    },
    replaced: {
      word: 'Reemplazado',
      text: (revision, day, phone) =>
        `La revisión ${revision} de este presupuesto, emitida el ${day}, ocupa su lugar, y este ya no se puede aceptar. Llame al ${phone} si no la recibió.`,
    },
    ended: {
      word: 'Cerrado',
      text: (phone) =>
        `El servicio terminó antes de que alguien lo aceptara, y ya no se puede aceptar. Llame al ${phone} si quiere el trabajo.`,
    },
    parent_cancelled: {
      word: 'Cerrado',
      text: (quote, phone) =>
        `El presupuesto ${quote}, al que se agregaría, se canceló; por eso este no se puede aceptar. Llame al ${phone} si quiere el trabajo.`,
    },
    yes: { word: 'Acordado', text: (total) => `Se acordó un trabajo por ${total}.` },
    yes_cancelled: { word: 'Cancelado', text: (day) => `Lo acordado se canceló el ${day}.` },
    no: { word: 'Rechazado', text: () => 'No hay ningún trabajo acordado con este presupuesto.' },
    invoice: {
      word: 'Emitida',
      text: (phone) =>
        `Aquí no se muestra lo que se haya pagado o acreditado desde entonces. Llame al ${phone} para saber cuánto se debe.`,
    },
    credit_memo: {
      word: 'Emitida',
      text: () => 'Resta su total de la factura que menciona.',
    },
    work_record: {
      word: 'Emitido',
      text: () => 'Dice qué se hizo y cómo quedó el sistema.',
    },
  },
  again: {
    heading: '¿Perdió el enlace para responder?',
    text: 'Esta página solo muestra. Se responde en un enlace propio, que podemos enviar otra vez: al correo electrónico que tenemos de quien lo responde, y a ningún otro lugar.',
    button: 'Enviarme el enlace otra vez',
    asked: 'Gracias',
    askedText: (phone) =>
      `Si tenemos un correo electrónico de quien responde este presupuesto, el enlace va en camino. Se envía como máximo una vez por hora. ¿No le llegó? Revise el correo no deseado o llame al ${phone}.`,
  },
  check: {
    heading: '¿Tiene el archivo?',
    text: 'Entonces puede saber si es, hasta la última letra, el que nosotros hicimos.',
    link: 'Revisar un archivo',
  },
  questions: (phone) => `¿Preguntas? Llame al ${phone}.`,
  missing: {
    title: 'No emitimos ningún documento con este código',
    text: 'Quizás la dirección no se copió entera: escanee el código otra vez, o escriba la dirección tal como está impresa junto al código.',
    help: (phone) =>
      `Si vuelve a salir esta página, no pague, no firme ni acepte nada por ese papel. Llame al ${phone} y díganos su número.`,
  },
  refused: {
    cross_site: {
      title: 'Por favor use el botón de la página',
      text: 'Esto llegó de otro lugar y no de nuestra página; por eso no se envió nada.',
    },
    unreadable: {
      title: 'No pudimos leer eso',
      text: 'No se envió nada. Vuelva y presione el botón otra vez.',
    },
  },
  back: 'Volver al documento',
  verify: {
    title: '¿Es auténtico este documento?',
    lead: 'Elija el archivo PDF que tiene. Le decimos si es el que nosotros hicimos y, si no lo es, qué se cambió.',
    file: 'El archivo',
    hint: 'Un PDF de hasta 10 MB.',
    button: 'Revisar este archivo',
    kept: 'El archivo se lee y después se borra. No se guarda nada de él.',
    onPaper:
      '¿Lo tiene solo en papel? Escanee el código de su última página, o escriba la dirección que está junto al código: muestra lo que emitimos.',
    unread: {
      no_file: {
        title: 'No se eligió ningún archivo',
        text: 'Primero elija el archivo PDF y después presione el botón.',
      },
      empty: {
        title: 'Este archivo está vacío',
        text: 'No contiene nada. Pida el archivo tal como lo enviamos.',
      },
      several_files: { title: 'Un archivo a la vez', text: 'Por favor elija un solo archivo.' },
      too_large: {
        title: 'Este archivo es demasiado grande',
        text: 'Pasa de 10 MB, más que cualquier documento nuestro. Pida el archivo tal como lo enviamos.',
      },
      unreadable: {
        title: 'El archivo no llegó entero',
        text: 'Por favor elíjalo y envíelo otra vez.',
      },
      busy: {
        title: 'Su archivo no se leyó',
        text: 'En este momento se revisan muchos archivos, o el suyo tardó demasiado en llegar.',
      },
      too_often: {
        title: 'Demasiados archivos en poco tiempo',
        text: 'El último no se leyó.',
      },
      cross_site: {
        title: 'Por favor use el formulario de esta página',
        text: 'El archivo llegó de otro lugar y no de esta página; por eso no se leyó.',
      },
      our_mistake: {
        title: frameWords.es.ourMistake.title,
        text: 'Algo falló de nuestro lado; esto no dice nada del archivo. Inténtelo otra vez o llámenos.',
      },
    },
    wait: (seconds) =>
      seconds === 1
        ? 'Inténtelo otra vez en un segundo.'
        : `Inténtelo otra vez en ${seconds} segundos.`,
    differs: 'Lo que es distinto',
    byteForByte: (day) => `Es, byte por byte, el archivo que emitimos el ${day}.`,
    whatStands: 'Qué dice y cuál es su situación',
    inside: 'Lo que emitimos',
    look: 'La página de este documento',
    next: 'Qué hacer',
    todo: {
      genuine: () =>
        'Puede confiar en lo que dice el archivo. Lo que pasó después no está en él: se dice arriba.',
      genuine_unknown: (phone) =>
        `Puede confiar en lo que dice el archivo. Lo que pasó después no está en él: llame al ${phone} para saber si sigue vigente.`,
      altered: (phone) =>
        `No pague, no firme ni acepte nada por este archivo. Pregunte a quien se lo dio de dónde viene y llame al ${phone}: le enviamos el nuestro.`,
      unsure: (phone) =>
        `Compárelo con lo que emitimos, aquí arriba. Para estar seguro, llame al ${phone}: le enviamos el archivo tal como lo hicimos.`,
      cannot_tell: (phone) =>
        `Aun así puede ser copia de un documento bueno. Escanee el código de su última página, o llame al ${phone} y díganos su número: le enviamos el archivo tal como lo hicimos.`,
    },
    another: 'Revisar otro archivo',
  },
};

export const words: Record<Language, Words> = { en: english, es: spanish };
