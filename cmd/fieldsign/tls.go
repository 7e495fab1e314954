package main

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"net/http"
	"os"
	"strings"
	"time"
)

const (
	selfMade  = "self"              // --tls
	selfYears = 2                   // that a self-made certificate lasts
	selfSpare = 30 * 24 * time.Hour // before its end it is made anew
	strict    = "max-age=31536000"  // HSTS, of a year
	notTLS    = "pass both --tls-cert and --tls-key, or --tls self, or none of them"
)

// certificate is the one to serve with, or nil for plain HTTP.
func (h *hosting) certificate(address string) (*tls.Certificate, error) {
	switch {
	case h.tls == selfMade && h.tlsCert == "" && h.tlsKey == "":
		return ownCertificate(h.data, address)
	case h.tls == "" && h.tlsCert != "" && h.tlsKey != "":
		c, err := tls.LoadX509KeyPair(h.tlsCert, h.tlsKey)
		if err != nil {
			return nil, fmt.Errorf("the certificate %s and its key %s can't be used: %w", h.tlsCert, h.tlsKey, err)
		}
		return &c, nil
	case h.tls == "" && h.tlsCert == "" && h.tlsKey == "":
		return nil, nil
	}
	return nil, errors.New(notTLS)
}

// ownCertificate reads the self-made certificate beside the data, or makes one:
// a browser that was told to trust it is not asked again at the next start.
func ownCertificate(data, address string) (*tls.Certificate, error) {
	certFile, keyFile := data+".cert.pem", data+".key.pem"
	c, err := tls.LoadX509KeyPair(certFile, keyFile)
	if err == nil && time.Until(c.Leaf.NotAfter) > selfSpare && c.Leaf.VerifyHostname(address) == nil {
		return &c, nil
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("the self-made certificate %s can't be used: %w (delete it and %s to have it made anew)", certFile, err, keyFile)
	}
	cert, key, err := makeCertificate(address)
	if err != nil {
		return nil, fmt.Errorf("no certificate could be made: %w", err)
	}
	if err := os.WriteFile(keyFile, key, 0o600); err != nil {
		return nil, fmt.Errorf("the certificate's key can't be kept beside the data: %w", err)
	}
	if err := os.WriteFile(certFile, cert, 0o644); err != nil {
		return nil, fmt.Errorf("the certificate can't be kept beside the data: %w", err)
	}
	c, err = tls.X509KeyPair(cert, key)
	return &c, err
}

// makeCertificate makes one for an address and for this machine, in PEM.
func makeCertificate(address string) (cert, key []byte, err error) {
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, nil, err
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
	if err != nil {
		return nil, nil, err
	}
	now := time.Now()
	form := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: "Fieldsign on " + address},
		NotBefore: now.Add(-24 * time.Hour), NotAfter: now.AddDate(selfYears, 0, 0), // clocks may be a day apart
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		BasicConstraintsValid: true,
		DNSNames:              []string{"localhost"},
		IPAddresses:           []net.IP{net.IPv4(127, 0, 0, 1), net.IPv6loopback},
	}
	if ip := net.ParseIP(address); ip != nil {
		form.IPAddresses = append(form.IPAddresses, ip)
	} else {
		form.DNSNames = append(form.DNSNames, address)
	}
	der, err := x509.CreateCertificate(rand.Reader, form, form, private.Public(), private)
	if err != nil {
		return nil, nil, err
	}
	raw, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		return nil, nil, err
	}
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: raw}), nil
}

// nameOf is what a certificate is for, as phones would type it: the address
// where it holds for that, else its first name.
func nameOf(c *tls.Certificate, address string) string {
	if c.Leaf.VerifyHostname(address) == nil {
		return address
	}
	for _, name := range c.Leaf.DNSNames {
		if !strings.HasPrefix(name, "*") {
			return name
		}
	}
	return address
}

// tlsConfig is TLS as the hub speaks it: 1.3, or 1.2 with authenticated
// encryption and keys that no later theft of the certificate's key reveals.
func tlsConfig(own *tls.Certificate) *tls.Config {
	return &tls.Config{
		Certificates: []tls.Certificate{*own}, MinVersion: tls.VersionTLS12,
		CipherSuites: []uint16{ // of 1.2; those of 1.3 are all of that kind
			tls.TLS_ECDHE_ECDSA_WITH_AES_128_GCM_SHA256, tls.TLS_ECDHE_RSA_WITH_AES_128_GCM_SHA256,
			tls.TLS_ECDHE_ECDSA_WITH_AES_256_GCM_SHA384, tls.TLS_ECDHE_RSA_WITH_AES_256_GCM_SHA384,
			tls.TLS_ECDHE_ECDSA_WITH_CHACHA20_POLY1305_SHA256, tls.TLS_ECDHE_RSA_WITH_CHACHA20_POLY1305_SHA256,
		},
	}
}

// onlyTLS has browsers come back over TLS alone. It is for given certificates:
// for one that browsers warn of, it would take away the way past the warning.
func onlyTLS(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Strict-Transport-Security", strict)
		next.ServeHTTP(w, r)
	})
}

// trusting is a client that takes this program's own certificate, whatever
// name it is for, and no other.
func trusting(own *tls.Certificate) *http.Client {
	pinned := &tls.Config{
		InsecureSkipVerify: true, // names and issuers say nothing here: the certificate itself is compared
		VerifyConnection: func(s tls.ConnectionState) error {
			if !bytes.Equal(s.PeerCertificates[0].Raw, own.Certificate[0]) {
				return errors.New("this is not the hub's own certificate")
			}
			return nil
		},
	}
	return &http.Client{Transport: &http.Transport{TLSClientConfig: pinned}}
}
