/** Version of the measuring engine. A grade names the one that made it; raise it whenever a stored attempt could grade differently. */
export const ENGINE_VERSION = '1.3.0';
