"""What a company learns from pour to pour: forecasts kept, closed jobs, what is known of a mix."""
