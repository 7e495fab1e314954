module fieldsign/cmd/fieldrelease

go 1.26.0

require (
	github.com/CycloneDX/cyclonedx-go v0.12.0
	github.com/google/licensecheck v0.3.1
)
