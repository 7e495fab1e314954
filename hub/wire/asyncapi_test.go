package wire

import (
	"encoding/json"
	"os"
	"reflect"
	"strings"
	"testing"
)

// The messages of asyncapi.json by their types here.
var described = map[string]any{
	"fromClient": Inbound{}, "welcome": Welcome{}, "state": State{}, "you": You{}, "done": Done{}, "refused": Refused{}, "clock": Clock{},
}

// TestAsyncAPI holds the document against the types, field by field.
func TestAsyncAPI(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile("asyncapi.json")
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Asyncapi string
		Channels struct {
			Game struct {
				Messages map[string]struct {
					Ref string `json:"$ref"`
				}
			}
		}
		Components struct {
			Messages map[string]struct{ Payload map[string]any }
		}
	}
	if err := json.Unmarshal(raw, &doc); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(doc.Asyncapi, "3.") {
		t.Errorf("asyncapi %q", doc.Asyncapi)
	}
	if len(doc.Components.Messages) != len(described) || len(doc.Channels.Game.Messages) != len(described) {
		t.Errorf("%d messages in the components, %d in the channel, %d in the code", len(doc.Components.Messages), len(doc.Channels.Game.Messages), len(described))
	}
	for name, v := range described {
		want := schema(reflect.TypeOf(v))
		got := undescribed(doc.Components.Messages[name].Payload)
		if !reflect.DeepEqual(got, want) {
			a, _ := json.MarshalIndent(got, "", " ")
			b, _ := json.MarshalIndent(want, "", " ")
			t.Errorf("%s: the document says\n%s\nthe code\n%s", name, a, b)
		}
	}
}

// schema is the JSON Schema of a Go type, as far as the protocol goes.
func schema(t reflect.Type) any {
	switch t.Kind() {
	case reflect.Pointer:
		return schema(t.Elem())
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Slice:
		return map[string]any{"type": "array", "items": schema(t.Elem())}
	case reflect.Struct:
		properties := map[string]any{}
		for i := range t.NumField() {
			name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			if !t.Field(i).IsExported() || name == "-" {
				continue
			}
			properties[name] = schema(t.Field(i).Type)
		}
		return map[string]any{"type": "object", "properties": properties}
	}
	return map[string]any{"type": "integer"}
}

// undescribed leaves out what is for people.
func undescribed(v any) any {
	m, ok := v.(map[string]any)
	if !ok {
		return v
	}
	out := map[string]any{}
	for k, x := range m {
		if _, isText := x.(string); k == "description" && isText {
			continue
		}
		out[k] = undescribed(x)
	}
	return out
}
