import type { AddressInfo } from 'node:net';
import { SMTPServer, type SMTPServerOptions, type SMTPServerSession } from 'smtp-server';

/** A mail server of somebody else's making, on loopback. */
export interface RealServer {
  port: number;
  /** Every mail that it has whole and did not refuse. */
  arrived: string[];
  /** Who sent each of them, as the server knows them, and whether nobody could read along. */
  sessions: { user: unknown; secure: boolean; to: string[] }[];
  close(): Promise<void>;
}

export interface RealServerOptions extends SMTPServerOptions {
  /** Asked when a mail is there whole: whether it is taken, and what is answered. */
  takes?(
    session: SMTPServerSession,
    take: () => void,
    answer: (error?: Error | null) => void,
  ): void;
}

export async function realServer({
  takes = (_session, take, answer) => {
    take();
    answer();
  },
  ...options
}: RealServerOptions = {}): Promise<RealServer> {
  const arrived: string[] = [];
  const sessions: RealServer['sessions'] = [];
  const server = new SMTPServer({
    authOptional: true,
    // A connection that was cut off on purpose is nobody's failure.
    closeTimeout: 100,
    onData: (stream, session, done) => {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('end', () => {
        const take = () => {
          arrived.push(Buffer.concat(chunks).toString());
          const to = session.envelope.rcptTo.map(({ address }) => address);
          sessions.push({ user: session.user || undefined, secure: session.secure, to });
        };
        takes(session, take, done);
      });
    },
    ...options,
  });
  server.on('error', () => undefined);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    port: (server.server.address() as AddressInfo).port,
    ...{ arrived, sessions },
    close: () => new Promise((resolve) => server.close(resolve)),
  };
}
