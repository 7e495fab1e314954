package memory

import (
	"testing"

	"fieldsign/hub/store"
	"fieldsign/hub/store/storetest"
)

func TestSuite(t *testing.T) {
	storetest.Run(t, func(*testing.T) store.Store { return New() })
}
