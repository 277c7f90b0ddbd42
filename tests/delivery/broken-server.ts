import net from 'node:net';

/** Where a mail server can fail, in the order of a mail. */
export const STEPS = ['greeting', 'EHLO', 'MAIL', 'RCPT', 'DATA', 'body', 'end'] as const;
export type Step = (typeof STEPS)[number];

/** What a server does at one step instead of what it should. At `end` it has the mail by then. */
export type Failing =
  | { does: 'reply'; with: string }
  | { does: 'stall' }
  | { does: 'drop' }
  | { does: 'drip' }
  | { does: 'late'; afterMs: number };

export type Behavior = Partial<Record<Step, Failing>>;

export interface BrokenServer {
  url: string;
  port: number;
  /** Every mail that the server has whole and did not refuse. */
  arrived: string[];
  /** Every mail that it had whole at some time, those among them that it refused then. */
  received(): readonly string[];
  /** Every command line it was sent. */
  heard: string[];
  /** How many connections there were. */
  connections(): number;
  close(): Promise<void>;
}

export interface ServerOptions {
  extensions?: readonly string[];
  /** Answers 250 a second time, or early, at the step named. */
  spurious?: { at: Step; reply: string };
}

const PROPER: Record<Exclude<Step, 'body'>, string> = {
  greeting: '220 mail.example ready',
  EHLO: '250 mail.example',
  MAIL: '250 2.1.0 ok',
  RCPT: '250 2.1.5 ok',
  DATA: '354 go on',
  end: '250 2.0.0 taken',
};

/**
 * A mail server on loopback that fails as it is told, written on bare sockets so that it can do what
 * no library would. `behaviorOf` is asked once for each connection.
 */
export async function brokenServer(
  behaviorOf: Behavior | ((connection: number) => Behavior),
  { extensions = [], spurious }: ServerOptions = {},
): Promise<BrokenServer> {
  const arrived: string[] = [];
  const received: string[] = [];
  const heard: string[] = [];
  const sockets = new Set<net.Socket>();
  let connections = 0;
  const server = net.createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => undefined);
    socket.on('close', () => sockets.delete(socket));
    const behavior = typeof behaviorOf === 'function' ? behaviorOf(connections) : behaviorOf;
    connections += 1;
    converse(socket, behavior, { arrived, received, heard, extensions, spurious });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as net.AddressInfo;
  return {
    url: `smtp://127.0.0.1:${port}`,
    port,
    arrived,
    received: () => received,
    heard,
    connections: () => connections,
    close: async () => {
      for (const socket of sockets) socket.destroy();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

interface Conversation {
  arrived: string[];
  received: string[];
  heard: string[];
  extensions: readonly string[];
  spurious: ServerOptions['spurious'];
}

function converse(socket: net.Socket, behavior: Behavior, told: Conversation): void {
  let buffer = '';
  let mode: 'commands' | 'message' | 'deaf' = 'commands';

  const say = (line: string) => {
    if (!socket.destroyed) socket.write(`${line}\r\n`);
  };
  const react = (step: Exclude<Step, 'body'>, proper = PROPER[step]) => {
    const failing = behavior[step];
    if (told.spurious?.at === step) say(told.spurious.reply);
    switch (failing?.does) {
      case undefined:
        return say(proper);
      case 'reply':
        return say(failing.with);
      case 'drop':
        mode = 'deaf';
        return socket.destroy();
      case 'stall':
        mode = 'deaf';
        return undefined;
      case 'late':
        setTimeout(() => say(proper), failing.afterMs);
        return undefined;
      case 'drip':
        mode = 'deaf';
        return drip(socket);
    }
  };
  const takes = (message: string) => {
    told.received.push(message);
    const failing = behavior.end;
    if (failing?.does !== 'reply' || !/^[45]\d\d /.test(failing.with)) told.arrived.push(message);
    react('end');
  };
  const isProper = (step: Step) => behavior[step] === undefined;

  react('greeting');
  socket.on('data', (chunk) => {
    buffer += chunk.toString('latin1');
    for (;;) {
      if (mode === 'deaf') return;
      if (mode === 'message') {
        const failing = behavior.body;
        if (failing !== undefined && buffer.length > 0) {
          mode = 'deaf';
          if (failing.does === 'drop') socket.destroy();
          if (failing.does === 'stall') socket.pause();
          if (failing.does === 'drip') drip(socket);
          if (failing.does === 'reply') {
            mode = 'message';
            delete behavior.body;
            say(failing.with);
            // It goes on reading when whoever sends has had the time to hear it.
            socket.pause();
            setTimeout(() => socket.resume(), 200);
          }
          continue;
        }
        const end = buffer.indexOf('\r\n.\r\n');
        if (end < 0) return;
        mode = 'commands';
        const message = buffer.slice(0, end + 2).replace(/^\.\./gm, '.');
        buffer = buffer.slice(end + 5);
        takes(message);
        continue;
      }
      const lineEnd = buffer.indexOf('\r\n');
      if (lineEnd < 0) return;
      const line = buffer.slice(0, lineEnd);
      buffer = buffer.slice(lineEnd + 2);
      told.heard.push(line);
      const verb = line.split(/[ :]/)[0]?.toUpperCase();
      switch (verb) {
        case 'EHLO':
        case 'HELO':
          react('EHLO', ehlo(told.extensions));
          break;
        case 'MAIL':
          react('MAIL');
          break;
        case 'RCPT':
          react('RCPT');
          break;
        case 'DATA':
          if (isProper('DATA')) mode = 'message';
          react('DATA');
          break;
        case 'STARTTLS':
          say('220 go on');
          // What follows is no handshake.
          socket.once('data', () => socket.end('this is not TLS\r\n'));
          mode = 'deaf';
          break;
        case 'QUIT':
          say('221 bye');
          socket.end();
          break;
        default:
          say('500 what?');
      }
    }
  });
}

function ehlo(extensions: readonly string[]): string {
  const lines = ['mail.example', ...extensions];
  return lines.map((line, i) => `250${i === lines.length - 1 ? ' ' : '-'}${line}`).join('\r\n');
}

/** One byte now and then: never silent, never done. */
function drip(socket: net.Socket): void {
  const timer = setInterval(() => {
    if (socket.destroyed) clearInterval(timer);
    else socket.write('2');
  }, 20);
  socket.on('close', () => clearInterval(timer));
}
