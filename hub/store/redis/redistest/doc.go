// Package redistest runs real Redis servers for tests: one, a cluster, or a
// primary with replicas and sentinels. Each can be killed, frozen and started
// again. All listen on loopback, keep their files in the test's own folder and
// end with the test.
package redistest
