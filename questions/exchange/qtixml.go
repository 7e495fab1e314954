package exchange

import (
	"encoding/xml"
	"fmt"

	"fieldsign/questions"
)

// The elements of QTI 3.0 that are written, in the order that its schema asks.

const (
	qtiSpace       = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
	qtiSchema      = qtiSpace + " https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd"
	manifestSpace  = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
	manifestSchema = manifestSpace + " https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd"
	xsiSpace       = "http://www.w3.org/2001/XMLSchema-instance"
)

// rootXML is what every file's first element bears.
type rootXML struct {
	Space  string `xml:"xmlns,attr"`
	XSI    string `xml:"xmlns:xsi,attr"`
	Schema string `xml:"xsi:schemaLocation,attr"`
}

type itemXML struct {
	XMLName xml.Name `xml:"qti-assessment-item"`
	rootXML
	ID            string `xml:"identifier,attr"`
	Title         string `xml:"title,attr"`
	Label         string `xml:"label,attr"` // the question's own id
	Language      string `xml:"xml:lang,attr"`
	Adaptive      bool   `xml:"adaptive,attr"`
	TimeDependent bool   `xml:"time-dependent,attr"`

	Response declarationXML   `xml:"qti-response-declaration"`
	Outcomes []declarationXML `xml:"qti-outcome-declaration"`
	Body     bodyXML          `xml:"qti-item-body"`
	Rules    processingXML    `xml:"qti-response-processing"`
	Feedback feedbackXML      `xml:"qti-modal-feedback"`
}

type declarationXML struct {
	ID          string      `xml:"identifier,attr"`
	Cardinality string      `xml:"cardinality,attr"`
	BaseType    string      `xml:"base-type,attr"`
	Correct     *valueXML   `xml:"qti-correct-response"`
	Default     *valueXML   `xml:"qti-default-value"`
	Mapping     *mappingXML `xml:"qti-mapping"`
}

type valueXML struct {
	Value string `xml:"qti-value"`
}

type mappingXML struct {
	Default string     `xml:"default-value,attr"`
	Entries []entryXML `xml:"qti-map-entry"`
}

type entryXML struct {
	Key           string `xml:"map-key,attr"`
	Value         string `xml:"mapped-value,attr"`
	CaseSensitive bool   `xml:"case-sensitive,attr"`
}

type bodyXML struct {
	Paragraphs []paragraphXML `xml:"p"`
	Choice     *choiceXML     `xml:"qti-choice-interaction"`
}

type paragraphXML struct {
	Text  string        `xml:",chardata"`
	Image *imageXML     `xml:"img"`
	Entry *textEntryXML `xml:"qti-text-entry-interaction"`
}

type imageXML struct {
	Source string `xml:"src,attr"`
	Alt    string `xml:"alt,attr"`
}

type textEntryXML struct {
	Response string `xml:"response-identifier,attr"`
	Length   int    `xml:"expected-length,attr"`
}

type choiceXML struct {
	Response string      `xml:"response-identifier,attr"`
	Shuffle  bool        `xml:"shuffle,attr"`
	Most     int         `xml:"max-choices,attr"`
	Prompt   string      `xml:"qti-prompt"`
	Options  []optionXML `xml:"qti-simple-choice"`
}

type optionXML struct {
	ID    string    `xml:"identifier,attr"`
	Text  string    `xml:",chardata"`
	Image *imageXML `xml:"img"`
}

type processingXML struct {
	Condition *conditionXML   `xml:"qti-response-condition"`
	Outcomes  []setOutcomeXML `xml:"qti-set-outcome-value"`
}

type conditionXML struct {
	Answered variableXML   `xml:"qti-response-if>qti-match>qti-variable"`
	Correct  variableXML   `xml:"qti-response-if>qti-match>qti-correct"`
	Then     setOutcomeXML `xml:"qti-response-if>qti-set-outcome-value"`
}

type variableXML struct {
	ID string `xml:"identifier,attr"`
}

type setOutcomeXML struct {
	ID     string       `xml:"identifier,attr"`
	Value  *baseXML     `xml:"qti-base-value"`
	Mapped *variableXML `xml:"qti-map-response"`
}

type baseXML struct {
	BaseType string `xml:"base-type,attr"`
	Value    string `xml:",chardata"`
}

type feedbackXML struct {
	Outcome  string `xml:"outcome-identifier,attr"`
	ID       string `xml:"identifier,attr"`
	ShowHide string `xml:"show-hide,attr"`
	Text     string `xml:"qti-content-body>p"`
}

const response, score, feedback, reason = "RESPONSE", "SCORE", "FEEDBACK", "reason"

// newItem has all but the plate and the interaction. Feedback's value is set
// by the response processing, so the reason stays hidden until then.
func newItem(id string, n int, q questions.Question) *itemXML {
	return &itemXML{rootXML: rootXML{qtiSpace, xsiSpace, qtiSchema}, ID: id, Title: fmt.Sprintf("Question %d", n), Label: q.ID, Language: q.Language.Tag(),
		Outcomes: []declarationXML{
			{ID: score, Cardinality: "single", BaseType: "float", Default: &valueXML{"0"}},
			{ID: "MAXSCORE", Cardinality: "single", BaseType: "float", Default: &valueXML{"1"}},
			{ID: feedback, Cardinality: "single", BaseType: "identifier"},
		},
		Rules:    processingXML{Outcomes: []setOutcomeXML{{ID: feedback, Value: &baseXML{"identifier", reason}}}},
		Feedback: feedbackXML{Outcome: feedback, ID: reason, ShowHide: "show", Text: q.Reason},
	}
}

func (x *itemXML) show(image *imageXML) {
	x.Body.Paragraphs = append(x.Body.Paragraphs, paragraphXML{Image: image})
}

func letter(option int) string { return string(rune('A' + option)) }

func (x *itemXML) choice(q questions.Question) {
	x.Response = declarationXML{ID: response, Cardinality: "single", BaseType: "identifier", Correct: &valueXML{letter(q.Key)}}
	x.Body.Choice = &choiceXML{Response: response, Most: 1, Prompt: q.Prompt}
	for i, o := range q.Options {
		x.Body.Choice.Options = append(x.Body.Choice.Options, optionXML{ID: letter(i), Text: o.Text})
	}
	x.Rules.Condition = &conditionXML{Answered: variableXML{response}, Correct: variableXML{response},
		Then: setOutcomeXML{ID: score, Value: &baseXML{"float", "1"}}}
}

func (x *itemXML) typed(q questions.Question, accepted []string) {
	mapping := &mappingXML{Default: "0"}
	for _, name := range accepted {
		mapping.Entries = append(mapping.Entries, entryXML{Key: name, Value: "1"})
	}
	x.Response = declarationXML{ID: response, Cardinality: "single", BaseType: "string", Correct: &valueXML{accepted[0]}, Mapping: mapping}
	x.Body.Paragraphs = append(x.Body.Paragraphs, paragraphXML{Text: q.Prompt}, paragraphXML{Entry: &textEntryXML{response, 40}})
	x.Rules.Outcomes = append([]setOutcomeXML{{ID: score, Mapped: &variableXML{response}}}, x.Rules.Outcomes...)
}
