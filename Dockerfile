FROM golang:1.26 AS build
WORKDIR /src
COPY . .
RUN CGO_ENABLED=0 go build -trimpath -ldflags="-s -w" -o /fieldsign ./cmd/fieldsign && mkdir /data

FROM scratch
# Whom to trust when Redis is reached over TLS (rediss://).
COPY --from=build /etc/ssl/certs/ca-certificates.crt /etc/ssl/certs/
COPY --from=build /fieldsign /fieldsign
COPY --from=build --chown=65532:65532 /data /data
USER 65532:65532
WORKDIR /data
EXPOSE 7600
ENTRYPOINT ["/fieldsign"]
