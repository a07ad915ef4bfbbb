package cutting

// Even is the job with the parts that are glued up made from strips of one width.
func Even(job Job) Job { return job.even() }
