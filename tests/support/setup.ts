import nock from 'nock';
import { registry } from '../../src/conversation/matters.ts';

// No test may leave the machine: everything but loopback is refused.
nock.disableNetConnect();
nock.enableNetConnect(/^(127\.0\.0\.1|localhost|\[::1\])/);

// What a caller hands over with a text and nobody can read is a fault.
Object.assign(registry, { strict: true });
