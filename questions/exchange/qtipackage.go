package exchange

import "encoding/xml"

// The test that holds the items, and the package's manifest.

type testXML struct {
	XMLName xml.Name `xml:"qti-assessment-test"`
	rootXML
	ID      string         `xml:"identifier,attr"`
	Title   string         `xml:"title,attr"`
	Outcome declarationXML `xml:"qti-outcome-declaration"`
	Part    partXML        `xml:"qti-test-part"`
	Total   totalXML       `xml:"qti-outcome-processing>qti-set-outcome-value"`
}

type partXML struct {
	ID         string     `xml:"identifier,attr"`
	Navigation string     `xml:"navigation-mode,attr"`
	Submission string     `xml:"submission-mode,attr"`
	Control    controlXML `xml:"qti-item-session-control"`
	Section    sectionXML `xml:"qti-assessment-section"`
}

type controlXML struct {
	Feedback bool `xml:"show-feedback,attr"` // else the reasons would never show
}

type sectionXML struct {
	ID      string       `xml:"identifier,attr"`
	Title   string       `xml:"title,attr"`
	Visible bool         `xml:"visible,attr"`
	Items   []itemRefXML `xml:"qti-assessment-item-ref"`
}

type itemRefXML struct {
	ID   string `xml:"identifier,attr"`
	Href string `xml:"href,attr"`
}

// totalXML sums the items' scores.
type totalXML struct {
	ID  string          `xml:"identifier,attr"`
	Sum testVariableXML `xml:"qti-sum>qti-test-variables"`
}

type testVariableXML struct {
	ID string `xml:"variable-identifier,attr"`
}

func newTest(title string) testXML {
	return testXML{rootXML: rootXML{qtiSpace, xsiSpace, qtiSchema}, ID: "test", Title: title,
		Outcome: declarationXML{ID: score, Cardinality: "single", BaseType: "float", Default: &valueXML{"0"}},
		Part: partXML{ID: "part", Navigation: "nonlinear", Submission: "individual", Control: controlXML{true},
			Section: sectionXML{ID: "section", Title: title, Visible: true}},
		Total: totalXML{score, testVariableXML{score}},
	}
}

type manifestXML struct {
	XMLName xml.Name `xml:"manifest"`
	rootXML
	ID            string        `xml:"identifier,attr"`
	Kind          string        `xml:"metadata>schema"`
	Version       string        `xml:"metadata>schemaversion"`
	Organizations string        `xml:"organizations"` // has to be there, and empty
	Resources     []resourceXML `xml:"resources>resource"`
}

type resourceXML struct {
	ID           string     `xml:"identifier,attr"`
	Type         string     `xml:"type,attr"`
	Href         string     `xml:"href,attr"`
	Files        []hrefXML  `xml:"file"`
	Dependencies []idrefXML `xml:"dependency"`
}

type hrefXML struct {
	Href string `xml:"href,attr"`
}

type idrefXML struct {
	ID string `xml:"identifierref,attr"`
}

// manifest lists the test first; it depends on the items, and they on their plates.
func (e *qtiExport) manifest() manifestXML {
	test := resourceXML{ID: "test", Type: "imsqti_test_xmlv3p0", Href: "test.xml", Files: []hrefXML{{"test.xml"}}}
	for _, item := range e.test.Part.Section.Items {
		test.Dependencies = append(test.Dependencies, idrefXML{item.ID})
	}
	return manifestXML{rootXML: rootXML{manifestSpace, xsiSpace, manifestSchema}, ID: "package", Kind: "QTI Package", Version: "3.0.0",
		Resources: append([]resourceXML{test}, e.resources...)}
}
