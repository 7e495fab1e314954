package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

const rekeyHelp = `fieldsign host-key has a running hub take a new host key, and prints it.

  FIELDSIGN_HOST_KEY=... fieldsign host-key --hub http://localhost:7600

Consoles that came in by the old key are sent away. The new one holds until the
hub stops; then it is again the one of FIELDSIGN_HOST_KEY, or a drawn one.
`

func runHostKey(ctx context.Context, args []string, out io.Writer) error {
	var r remote
	f := flags("host-key", rekeyHelp, out)
	r.flags(f)
	if err := parseWithEnvironment(f, args, whereOnly); err != nil {
		return err
	}
	if err := noWords(f); err != nil {
		return err
	}
	if r.hub == "" {
		return errors.New("which hub? Give --hub and its address, such as http://localhost:7600")
	}
	return r.ask(ctx, "POST", "/key", func(body io.Reader) error {
		var fresh struct{ Key string }
		if err := json.NewDecoder(body).Decode(&fresh); err != nil {
			return fmt.Errorf("the hub's answer can't be read: %w", err)
		}
		_, err := fmt.Fprintln(out, fresh.Key)
		return err
	})
}
