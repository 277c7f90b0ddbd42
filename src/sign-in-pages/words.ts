import type { Language } from '../page-frame/index.ts';
import type { Role } from '../platform/access/actor.ts';

/** Why what was sent in was not taken. */
export type Trouble =
  | 'wrong'
  | 'code_needed'
  | 'wrong_code'
  | 'wrong_password'
  | 'missing'
  | 'not_the_same'
  | 'too_short'
  | 'too_long'
  | 'not_text'
  | 'too_common'
  | 'of_the_person'
  | 'of_the_company'
  | 'not_an_email'
  | 'taken'
  | 'not_now'
  | 'unavailable';

/** Every word that the pages of signing in say. */
export interface Words {
  signIn: {
    title: string;
    email: string;
    password: string;
    code: string;
    codeHint: string;
    button: string;
    lost: string;
    passwordSet: string;
    passwordChanged: string;
  };
  setPassword: {
    title: string;
    lead: (name: string) => string;
    leadFirst: string;
    name: string;
    hint: string;
    again: string;
    button: string;
    dead: { title: string; text: string };
  };
  account: {
    title: string;
    who: (name: string, role: string) => string;
    role: Record<Role, string>;
    factor: string;
    on: (codesLeft: number) => string;
    off: string;
    turnOn: string;
    change: string;
    password: string;
    leave: string;
    signOut: string;
    everywhere: string;
    everywhereHint: string;
  };
  changePassword: {
    title: string;
    lead: string;
    now: string;
    next: string;
    again: string;
    button: string;
  };
  sessions: {
    title: string;
    browser: string;
    program: string;
    since: (at: string) => string;
    used: (at: string) => string;
    ends: (at: string) => string;
    thisOne: string;
    end: string;
    endHint: string;
    over: { title: string; text: string };
  };
  factor: {
    title: string;
    what: string;
    begin: string;
    next: string;
    scan: string;
    picture: string;
    type: string;
    open: string;
    code: string;
    codeHint: string;
    confirm: string;
    again: string;
    onTitle: string;
    keep: string;
    keepHint: string;
    done: string;
    off: string;
    offHint: string;
    codeOrRecovery: string;
    remove: string;
  };
  troubles: Record<Trouble, string>;
  tooOften: (minutes: number) => string;
  crossSite: { title: string; text: string };
  needsHttps: { title: string; text: string };
  back: string;
}

const en: Words = {
  signIn: {
    title: 'Sign in',
    email: 'E-mail',
    password: 'Password',
    code: 'Code',
    codeHint: 'Only if you turned codes on: six digits from your app, or a recovery code.',
    button: 'Sign in',
    lost: 'Forgot your password? Ask the owner for a new link.',
    passwordSet: 'Your password is set. Sign in with it.',
    passwordChanged:
      'Your password is changed. You are signed out everywhere: sign in with the new one.',
  },
  setPassword: {
    title: 'Set your password',
    lead: (name) => `Hello ${name}. Choose the password you sign in with.`,
    leadFirst: 'You are the first owner here. Say who you are and choose your password.',
    name: 'Your name',
    hint: 'At least 15 characters. Four or more words do well.',
    again: 'The same password again',
    button: 'Set password',
    dead: {
      title: 'This link does not open',
      text: 'It was used already, or it is too old. Ask the owner for a new one.',
    },
  },
  account: {
    title: 'Your account',
    who: (name, role) => `${name}, ${role}. You are signed in.`,
    role: { owner: 'owner', dispatcher: 'dispatcher', technician: 'technician' },
    factor: 'Codes at sign-in',
    on: (codesLeft) =>
      `On. ${codesLeft} recovery ${codesLeft === 1 ? 'code is' : 'codes are'} left.`,
    off: 'Off. Your password alone lets you in.',
    turnOn: 'Turn codes on',
    change: 'Turn codes off, or change the phone',
    password: 'Password',
    leave: 'Leave',
    signOut: 'Sign out',
    everywhere: 'Sign out everywhere',
    everywhereHint: 'Lost a phone, or somebody saw your password? This ends all your sessions.',
  },
  changePassword: {
    title: 'Change your password',
    lead: 'You are then signed out everywhere, here too, and sign in with the new one.',
    now: 'Your password until now',
    next: 'New password',
    again: 'The new password again',
    button: 'Change password',
  },
  sessions: {
    title: 'Where you are signed in',
    browser: 'A browser',
    program: 'A program',
    since: (at) => `Signed in ${at}.`,
    used: (at) => `Last used ${at}.`,
    ends: (at) => `Ends ${at} at the latest.`,
    thisOne: 'This one, here.',
    end: 'Sign out there',
    endHint: 'Whoever has that phone or computer is out at once.',
    over: {
      title: 'Nothing to sign out of',
      text: 'It is over already. Your account shows where you are still signed in.',
    },
  },
  factor: {
    title: 'Codes at sign-in',
    what:
      'With your password, an app on your phone then shows six digits to sign in. Whoever gets ' +
      'your password alone stays out.',
    begin: 'Turn codes on',
    next: 'Add it to your app',
    scan: 'Scan this with an app that shows codes.',
    picture: 'Picture to scan with your app',
    type: 'Or type this into the app:',
    open: 'Or open the app on this phone',
    code: 'Code from your app',
    codeHint: 'Six digits',
    confirm: 'Check the code',
    again: 'Start over',
    onTitle: 'Codes are on',
    keep: 'Write these recovery codes down now. They are not shown again.',
    keepHint: 'Each lets you in once when your phone is gone. Keep them away from the phone.',
    done: 'I wrote them down',
    off: 'Turn codes off',
    offHint: 'For another phone, turn them off here and on again.',
    codeOrRecovery: 'Code from your app, or a recovery code',
    remove: 'Turn off',
  },
  troubles: {
    wrong: 'E-mail and password do not belong together. Check both and try again.',
    code_needed: 'A code is needed too. Type your password again, and the code.',
    wrong_code: 'This code is wrong or was used already. Wait for the next one.',
    wrong_password: 'This is not your password. Try again.',
    missing: 'Something is missing. Fill in every field.',
    not_the_same: 'The two passwords differ. Type the same one twice.',
    too_short: 'Use at least 15 characters. Four or more words do well.',
    too_long: 'Use at most 128 characters.',
    not_text: 'The password has characters that are not text.',
    too_common: 'This is easy to guess. Use four or more words that do not belong together.',
    of_the_person: 'Leave your name and e-mail out of the password.',
    of_the_company:
      'This is hardly more than names that are tried first: the company’s, this program’s and yours. ' +
      'Use other words.',
    not_an_email: 'This is not an e-mail address.',
    taken: 'Somebody here has this e-mail already.',
    not_now: 'This is not possible right now. Look at your account and start again.',
    unavailable: 'This cannot be checked right now. Try again, or use a recovery code.',
  },
  tooOften: (minutes) =>
    `That was tried too often. Wait ${minutes} ${minutes === 1 ? 'minute' : 'minutes'}, then try again.`,
  crossSite: {
    title: 'Not taken',
    text: 'This was not sent from our own page, so nothing was done. Open the page and try again.',
  },
  needsHttps: {
    title: 'Open this with https',
    text: 'Here nobody can be kept signed in. Open the same address with https:// in front.',
  },
  back: 'Back',
};

const es: Words = {
  signIn: {
    title: 'Iniciar sesión',
    email: 'Correo electrónico',
    password: 'Contraseña',
    code: 'Código',
    codeHint:
      'Solo si activó los códigos: seis cifras de su aplicación o un código de recuperación.',
    button: 'Entrar',
    lost: '¿Olvidó su contraseña? Pídale un enlace nuevo al dueño.',
    passwordSet: 'Su contraseña quedó guardada. Entre con ella.',
    passwordChanged: 'Su contraseña cambió. Todas sus sesiones se cerraron: entre con la nueva.',
  },
  setPassword: {
    title: 'Elija su contraseña',
    lead: (name) => `Hola, ${name}. Elija la contraseña con la que entrará.`,
    leadFirst: 'Usted es el primer dueño aquí. Diga quién es y elija su contraseña.',
    name: 'Su nombre',
    hint: 'Al menos 15 caracteres. Cuatro palabras o más sirven bien.',
    again: 'La misma contraseña otra vez',
    button: 'Guardar contraseña',
    dead: {
      title: 'Este enlace no abre',
      text: 'Ya se usó o es demasiado viejo. Pídale otro al dueño.',
    },
  },
  account: {
    title: 'Su cuenta',
    who: (name, role) => `${name}, ${role}. Su sesión está abierta.`,
    role: { owner: 'dueño', dispatcher: 'despachador', technician: 'técnico' },
    factor: 'Códigos al entrar',
    on: (codesLeft) =>
      codesLeft === 1
        ? `Activados. Queda ${codesLeft} código de recuperación.`
        : `Activados. Quedan ${codesLeft} códigos de recuperación.`,
    off: 'Desactivados. Su contraseña basta para entrar.',
    turnOn: 'Activar códigos',
    change: 'Desactivar los códigos o cambiar de teléfono',
    password: 'Contraseña',
    leave: 'Salir',
    signOut: 'Cerrar sesión',
    everywhere: 'Cerrar sesión en todas partes',
    everywhereHint:
      '¿Perdió un teléfono o alguien vio su contraseña? Esto cierra todas sus sesiones.',
  },
  changePassword: {
    title: 'Cambie su contraseña',
    lead: 'Después se cierran todas sus sesiones, también esta, y usted entra con la nueva.',
    now: 'Su contraseña de hasta ahora',
    next: 'Contraseña nueva',
    again: 'La contraseña nueva otra vez',
    button: 'Cambiar contraseña',
  },
  sessions: {
    title: 'Dónde tiene la sesión abierta',
    browser: 'Un navegador',
    program: 'Un programa',
    since: (at) => `Abierta el ${at}.`,
    used: (at) => `Usada por última vez el ${at}.`,
    ends: (at) => `Termina el ${at} a más tardar.`,
    thisOne: 'Esta, aquí.',
    end: 'Cerrar esa sesión',
    endHint: 'Quien tenga ese teléfono o esa computadora queda fuera al momento.',
    over: {
      title: 'No hay nada que cerrar',
      text: 'Esa sesión ya terminó. Su cuenta muestra cuáles siguen abiertas.',
    },
  },
  factor: {
    title: 'Códigos al entrar',
    what:
      'Además de su contraseña, una aplicación en su teléfono muestra seis cifras para entrar. ' +
      'Quien solo tenga su contraseña se queda fuera.',
    begin: 'Activar códigos',
    next: 'Agréguelo a su aplicación',
    scan: 'Escanee esto con una aplicación que muestre códigos.',
    picture: 'Imagen para escanear con su aplicación',
    type: 'O escriba esto en la aplicación:',
    open: 'O abra la aplicación en este teléfono',
    code: 'Código de su aplicación',
    codeHint: 'Seis cifras',
    confirm: 'Comprobar el código',
    again: 'Empezar de nuevo',
    onTitle: 'Los códigos están activados',
    keep: 'Anote ahora estos códigos de recuperación. No se muestran otra vez.',
    keepHint:
      'Cada uno le deja entrar una vez si pierde el teléfono. Guárdelos lejos del teléfono.',
    done: 'Ya los anoté',
    off: 'Desactivar códigos',
    offHint: 'Para usar otro teléfono, desactívelos aquí y actívelos de nuevo.',
    codeOrRecovery: 'Código de su aplicación o de recuperación',
    remove: 'Desactivar',
  },
  troubles: {
    wrong: 'El correo y la contraseña no van juntos. Revise los dos e inténtelo otra vez.',
    code_needed: 'También hace falta un código. Escriba otra vez su contraseña, y el código.',
    wrong_code: 'Este código no es correcto o ya se usó. Espere el siguiente.',
    wrong_password: 'Esta no es su contraseña. Inténtelo otra vez.',
    missing: 'Falta algo. Llene todos los campos.',
    not_the_same: 'Las dos contraseñas no son iguales. Escriba la misma dos veces.',
    too_short: 'Use al menos 15 caracteres. Cuatro palabras o más sirven bien.',
    too_long: 'Use 128 caracteres como máximo.',
    not_text: 'La contraseña tiene caracteres que no son texto.',
    too_common: 'Es fácil de adivinar. Use cuatro palabras o más que no tengan relación.',
    of_the_person: 'No ponga su nombre ni su correo en la contraseña.',
    of_the_company:
      'Casi solo tiene nombres que se prueban primero: el de la empresa, el de este programa y el ' +
      'suyo. Use otras palabras.',
    not_an_email: 'Esto no es una dirección de correo.',
    taken: 'Alguien aquí ya tiene este correo.',
    not_now: 'Ahora no es posible. Mire su cuenta y empiece de nuevo.',
    unavailable: 'Ahora no se puede comprobar. Inténtelo otra vez o use un código de recuperación.',
  },
  tooOften: (minutes) =>
    `Se intentó demasiadas veces. Espere ${minutes} ${minutes === 1 ? 'minuto' : 'minutos'} e inténtelo otra vez.`,
  crossSite: {
    title: 'No se tomó',
    text: 'Esto no se envió desde nuestra propia página y no se hizo nada. Abra la página e inténtelo otra vez.',
  },
  needsHttps: {
    title: 'Abra esto con https',
    text: 'Aquí la sesión no se puede guardar. Abra la misma dirección con https:// delante.',
  },
  back: 'Volver',
};

export const words: Record<Language, Words> = { en, es };
