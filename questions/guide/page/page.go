package page

import (
	"errors"
	"io"

	"fieldsign/questions/guide"
)

const Head = "<!doctype html>\n<!-- A study guide by Fieldsign"

func Write(io.Writer, *guide.Guide) error { return errors.New("soon") }
