import nock from 'nock';

// No test may leave the machine: everything but loopback is refused.
nock.disableNetConnect();
nock.enableNetConnect(/^(127\.0\.0\.1|localhost|\[::1\])/);
