"""Published standards: threads, drill sizes, fits, fastener holes, gauges. Knows nothing of schedules, shops or sheets."""
