import helmet from '@fastify/helmet';
import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';

/** What a browser may do with our pages: load from here, send forms here, and nothing else. */
export const headers = fp(async (app: FastifyInstance, options: { secure: boolean }) => {
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        fontSrc: ["'self'"],
        imgSrc: ["'self'", 'data:'],
        connectSrc: ["'self'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
        baseUri: ["'none'"],
        upgradeInsecureRequests: null,
      },
    },
    // On plain http, which a shop's own network is, this would lock browsers out for a year.
    strictTransportSecurity: options.secure ? { maxAge: 31_536_000 } : false,
    referrerPolicy: { policy: 'same-origin' },
    xFrameOptions: { action: 'deny' },
  });
});
