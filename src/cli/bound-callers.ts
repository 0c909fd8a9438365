import type { Server } from 'node:http';
import type { Socket } from 'node:net';

/**
 * Keeps down how many callers there are who have not finished their call: of more than `atMost` the one that has been at
 * it for longest is cut off. So whoever opens many and finishes none shuts nobody out who says what they have to say.
 */
export function boundCallers(server: Server, atMost: number): void {
  const unfinished = new Set<Socket>();
  const begin = (socket: Socket): void => {
    unfinished.delete(socket);
    unfinished.add(socket);
    const [oldest] = unfinished;
    if (unfinished.size <= atMost || !oldest) return;
    unfinished.delete(oldest);
    oldest.destroy();
  };
  server.on('connection', (socket) => {
    begin(socket);
    socket.once('close', () => unfinished.delete(socket));
  });
  server.on('request', (request, response) => {
    const { socket } = request;
    // What is said in full is being stored, and waits for nobody outside.
    request.once('end', () => unfinished.delete(socket));
    response.once('finish', () => {
      if (!socket.destroyed) begin(socket);
    });
  });
}
