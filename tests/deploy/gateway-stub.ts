import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

export interface GatewayStub {
  readonly sendUrl: string;
  /** Numbers and texts that the line handed over, in order. */
  readonly texts: readonly { readonly to: string; readonly text: string }[];
  close(): Promise<void>;
}

/** Takes texts on loopback as the reference gateway does, and gives them to nobody. */
export async function gatewayStub(): Promise<GatewayStub> {
  const texts: { to: string; text: string }[] = [];
  const server = createServer((request, response) => {
    const parts: Buffer[] = [];
    request.on('data', (part: Buffer) => parts.push(part));
    request.on('end', () => {
      texts.push({ to: String(request.headers['x-kannel-to']), text: Buffer.concat(parts).toString('utf8') });
      response.writeHead(202).end('0: Accepted for delivery');
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return {
    sendUrl: `http://127.0.0.1:${port}/cgi-bin/sendsms`,
    texts,
    close: () => new Promise((resolve) => void server.close(() => resolve()).closeAllConnections()),
  };
}
