//go:build linux

package main

import (
	"context"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"fieldsign/hub"
	"fieldsign/hub/store/redis"
)

// elsewhere is where the phones of each game come to, where that is not the
// child's listener.
var elsewhere []string

// startRedis starts a server that syncs its append-only file with every write,
// in the child's folder and on a socket there. It ends with the child.
func startRedis(dir string) (address string, err error) {
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	address = l.Addr().String()
	_, port, _ := net.SplitHostPort(address)
	l.Close()
	server := exec.Command("redis-server", "--port", port, "--bind", "127.0.0.1", "--dir", dir, "--save", "", "--appendonly", "yes", "--appendfsync", "always",
		"--logfile", filepath.Join(dir, "redis.log"))
	server.Stderr = os.Stderr
	if err := server.Start(); err != nil {
		return "", fmt.Errorf("these kinds need redis-server: %w", err)
	}
	for range 200 {
		conn, err := net.Dial("tcp4", address)
		if err == nil {
			conn.Close()
			return "redis://" + address, nil
		}
		time.Sleep(20 * time.Millisecond)
	}
	return "", fmt.Errorf("redis-server does not answer on %s", address)
}

func serveRedis(l net.Listener, games int, dir string) ([]string, error) {
	address, err := startRedis(dir)
	if err != nil {
		return nil, err
	}
	s, err := redis.Open(address, redis.Options{})
	if err != nil {
		return nil, err
	}
	return serveHub(l, games, s)
}

// pair is two hubs on one Redis, and where each of them listens.
func pair(l net.Listener, dir string) (hubs [2]*hub.Hub, at [2]string, err error) {
	address, err := startRedis(dir)
	if err != nil {
		return hubs, at, err
	}
	second, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		return hubs, at, err
	}
	for i, l := range []net.Listener{l, second} {
		s, err := redis.Open(address, redis.Options{})
		if err != nil {
			return hubs, at, err
		}
		if hubs[i], err = openHub(l, s); err != nil {
			return hubs, at, err
		}
		at[i] = l.Addr().String()
	}
	return hubs, at, nil
}

func serveTwo(l net.Listener, games int, dir string) (codes []string, err error) {
	hubs, at, err := pair(l, dir)
	if err != nil {
		return nil, err
	}
	for n := range games {
		code, err := hubs[n%2].CreateGame(context.Background())
		if err != nil {
			return nil, err
		}
		codes, elsewhere = append(codes, code), append(elsewhere, at[n%2])
	}
	return codes, nil
}

func serveForwarded(l net.Listener, games int, dir string) (codes []string, err error) {
	hubs, at, err := pair(l, dir)
	if err != nil {
		return nil, err
	}
	for range games {
		code, err := hubs[0].CreateGame(context.Background())
		if err != nil {
			return nil, err
		}
		codes, elsewhere = append(codes, code), append(elsewhere, at[1])
	}
	return codes, nil
}
